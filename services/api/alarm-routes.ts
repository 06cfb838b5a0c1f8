import type { FastifyRequest } from 'fastify'
import { z } from 'zod'
import { noiseOf } from '../alarm/noise.ts'
import { alarmActionBody, alarmView, noiseView, shelveBody } from '../contract/alarm-view.ts'
import { timeInQuery } from '../contract/time-of.ts'
import { HouseError } from '../errors.ts'
import type { AlarmAction } from '../hub/desk-port.ts'
import { alarmStates } from '../tank/alarm-names.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { countInQuery } from './entry-query.ts'
import { tankOf } from './tank-lookup.ts'
import { alarmToldIn } from './units-told.ts'

const dayMs = 86_400_000
const oneAlarm = z.object({ id: z.string().max(100) })
const alarmQuery = z.object({
  tank: z.string().optional(),
  state: z.enum([...alarmStates, 'active']).optional(),
  from: timeInQuery.optional()
})
const wrongState: Readonly<Record<AlarmAction['action'], string>> = {
  acknowledge: 'This alarm has been acknowledged already, or is over.',
  shelve: 'Only an alarm that is there can be put aside for a while.',
  unshelve: 'This alarm is not put aside.',
  reset: 'Only an alarm that holds on until it is looked at can be reset, and only once its cause is gone.'
}

/** Alarms and what people do with them. */
export function addAlarmRoutes(door: Door, { record, desk, log, clock, house }: ApiParts): void {
  door.get(
    '/api/alarms',
    {
      schema: {
        summary: 'Alarm activations with what was done',
        querystring: alarmQuery,
        response: { 200: z.array(alarmView) }
      }
    },
    async (request) => {
      const { tank, state, from } = request.query
      if (tank !== undefined) await tankOf(record, tank)
      const alarms = await desk.alarms({
        ...(tank === undefined ? {} : { tankId: tank }),
        ...(state === undefined || state === 'active' ? {} : { state }),
        ...(from === undefined ? {} : { fromMs: from })
      })
      return alarms
        .filter(
          (alarm) => state !== 'active' || (alarm.state !== 'normal' && alarm.state !== 'out-of-service')
        )
        .map((alarm) => alarmToldIn(alarm, house.settings()))
    }
  )

  door.get(
    '/api/alarms/noise',
    {
      schema: {
        summary: 'How noisy this watch is: alarms a week, and which share was how urgent',
        querystring: z.object({ tank: z.string().optional(), days: countInQuery(365).optional() }),
        response: { 200: noiseView }
      }
    },
    async (request) => {
      const { tank, days = 30 } = request.query
      if (tank !== undefined) await tankOf(record, tank)
      const fromMs = clock() - days * dayMs
      const alarms = await desk.alarms({ ...(tank === undefined ? {} : { tankId: tank }), fromMs })
      const rang = alarms.filter(
        (alarm) => alarm.raisedAtMs >= fromMs && alarm.changes.some(({ to }) => to === 'unacknowledged')
      )
      return noiseOf({ rang, days })
    }
  )

  async function act(request: FastifyRequest, ask: Omit<AlarmAction, 'by'>): Promise<void> {
    const { visitor } = request
    // Who and from where: a kitchen tablet and a telephone far away are not the same news.
    const by = `${visitor?.label ?? 'nobody'}, from ${request.ip}`
    const outcome = await desk.act({ ...ask, by })
    log.info({ event: 'alarm-action', action: ask.action, alarm: ask.id, outcome, role: visitor?.role })
    if (outcome === 'unknown')
      throw new HouseError('API_NOT_FOUND', 'There is no alarm of this id. Load the list of alarms again.')
    if (outcome === 'wrong-state')
      throw new HouseError(
        'API_WRONG_STATE',
        `${wrongState[ask.action]} Load the list of alarms again and look at its state.`
      )
  }

  const withNote = [
    ['acknowledge', 'Say that somebody has seen it; the sound stops'],
    ['unshelve', 'Let an alarm ring again that was put aside'],
    ['reset', 'Close an alarm that holds on after its cause has gone']
  ] as const
  for (const [action, summary] of withNote)
    door.post(
      `/api/alarms/:id/${action}`,
      { schema: { summary, params: oneAlarm, body: alarmActionBody.nullish(), response: { 204: z.null() } } },
      async (request, reply) => {
        const note = request.body?.note
        await act(request, { id: request.params.id, action, ...(note === undefined ? {} : { note }) })
        return reply.code(204).send(null)
      }
    )

  door.post(
    '/api/alarms/:id/shelve',
    {
      schema: {
        summary: 'Put an alarm aside for a while, at most a day; it comes back by itself',
        params: oneAlarm,
        body: shelveBody.nullish(),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      const { minutes, note } = shelveBody.parse(request.body ?? {})
      await act(request, {
        id: request.params.id,
        action: 'shelve',
        minutes,
        ...(note === undefined ? {} : { note })
      })
      return reply.code(204).send(null)
    }
  )
}
