import { z } from 'zod'
import { doneNote, type UpkeepDue } from '../care/upkeep.ts'
import {
  feedEntry,
  feedView,
  madeFeed,
  touchTasks,
  type UpkeepView,
  upkeepView
} from '../contract/upkeep-view.ts'
import { HouseError } from '../errors.ts'
import { upkeepOf } from '../hub/upkeep.ts'
import type { EventData, EventKind } from '../tank/event.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { makeFeedKeys } from './feed-keys.ts'
import { livingTankOf, tankOf } from './tank-lookup.ts'
import { upkeepToldIn } from './units-told.ts'
import { upkeepCalendar } from './upkeep-calendar.ts'

const oneTank = z.object({ tank: z.string() })
const mostFeeds = 50
const dayMs = 86_400_000
type TouchTask = (typeof touchTasks)[number]

/** What one touch writes into the diary. */
const entryOf: Readonly<Record<TouchTask, Readonly<{ kind: EventKind; data?: EventData; note?: string }>>> = {
  'calibrate-ph-probe': { kind: 'probe-cleaned' },
  'filter-care': { kind: 'filter-cleaned', data: { how: 'tank-water' } },
  'heater-check': { kind: 'note', note: doneNote('heater-check') },
  'seals-check': { kind: 'note', note: doneNote('seals-check') }
}

const viewOf = ({ everyMs, ...due }: UpkeepDue): UpkeepView => ({
  ...due,
  everyDays: everyMs / dayMs,
  byTouch: (touchTasks as readonly string[]).includes(due.task)
})

/** What is to be done about a tank: as a list, by a touch, and as a calendar that others can read. */
export function addUpkeepRoutes(door: Door, parts: ApiParts): void {
  const { record, desk, house, live, clock, log } = parts
  const feeds = makeFeedKeys(record)

  door.get(
    '/api/tanks/:tank/upkeep',
    {
      schema: {
        summary: 'What is to be done about a tank, soonest first',
        params: oneTank,
        response: { 200: z.array(upkeepView) }
      }
    },
    async (request) => {
      const tank = await tankOf(record, request.params.tank)
      const due = await upkeepOf(record, { tank, nowMs: clock() })
      return due.map((one) => viewOf(upkeepToldIn(one, house.settings())))
    }
  )

  door.post(
    '/api/tanks/:tank/upkeep/:task',
    {
      schema: {
        summary: 'Say that a piece of upkeep is done; it stands in the diary as an event',
        params: oneTank.extend({ task: z.enum(touchTasks) }),
        body: z.strictObject({ clientKey: z.string().min(1).max(100).optional() }).nullish(),
        response: { 201: z.object({ id: z.string() }) }
      }
    },
    async (request, reply) => {
      const { tank, task } = request.params
      await livingTankOf(record, tank)
      const atMs = clock()
      const { id, repeated } = await record.addEvent({
        tankId: tank,
        atMs,
        ...entryOf[task],
        by: request.visitor?.label ?? 'nobody',
        enteredAtMs: atMs,
        ...(request.body?.clientKey === undefined ? {} : { clientKey: request.body.clientKey })
      })
      if (!repeated) {
        await desk.entriesChanged({ tankId: tank, fromMs: atMs })
        live.tell({ event: 'event', data: { tankId: tank, id, kind: entryOf[task].kind, change: 'added' } })
      }
      return reply.code(201).send({ id })
    }
  )

  door.get(
    '/api/tanks/:tank/upkeep.ics',
    {
      schema: {
        summary: 'The same as iCalendar, for a calendar program with a key of its own',
        params: oneTank,
        querystring: z.object({
          key: z.string().max(200).optional(),
          as: z.enum(['events', 'todos']).optional()
        })
      },
      config: { rateLimit: { max: 120, timeWindow: 60_000 } }
    },
    async (request, reply) => {
      const { tank: tankId } = request.params
      const { key, as } = request.query
      if (key === undefined || !(await feeds.opens({ tankId, key })))
        throw new HouseError(
          'API_WRONG_CODE',
          'This calendar address has no key, or its key was taken back. Make a new address on the keeper’s page.'
        )
      const tank = await tankOf(record, tankId)
      const nowMs = clock()
      const { name: tankName, timeZone } = tank.profile
      const due = tank.archivedAtMs === null ? await upkeepOf(record, { tank, nowMs }) : []
      const tasks = due.map((one) => upkeepToldIn(one, house.settings()))
      return reply
        .type('text/calendar; charset=utf-8')
        .send(upkeepCalendar({ tankId, tankName, timeZone, tasks, nowMs, as: as ?? 'events' }))
    }
  )

  door.get(
    '/api/feeds',
    { schema: { summary: 'Keys with which calendars read a feed', response: { 200: z.array(feedView) } } },
    async () => [...(await feeds.all())]
  )

  door.post(
    '/api/feeds',
    {
      schema: {
        summary: 'A calendar address for a tank’s upkeep; its key is shown this once',
        body: feedEntry,
        response: { 201: madeFeed }
      }
    },
    async (request, reply) => {
      const { tankId, label } = request.body
      await livingTankOf(record, tankId)
      if ((await feeds.all()).length >= mostFeeds)
        throw new HouseError(
          'API_CONFLICT',
          `There are ${mostFeeds} calendar addresses already. Take one back first.`
        )
      const { feed, key } = await feeds.add({ tankId, label, nowMs: clock() })
      log.info({ event: 'feed-added', feed: feed.id })
      return reply.code(201).send({ ...feed, path: `/api/tanks/${tankId}/upkeep.ics?key=${key}` })
    }
  )

  door.delete(
    '/api/feeds/:id',
    {
      schema: {
        summary: 'Take a calendar address back',
        params: z.object({ id: z.string().max(40) }),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      if (!(await feeds.remove(request.params.id)))
        throw new HouseError('API_NOT_FOUND', 'There is no calendar address of this id. Load the list again.')
      log.info({ event: 'feed-removed', feed: request.params.id })
      return reply.code(204).send(null)
    }
  )
}
