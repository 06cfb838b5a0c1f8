import { z } from 'zod'
import { calibrationsView, newCalibration, newLife } from '../contract/probe-entry.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { calibrationFrom } from './calibration-entry.ts'
import { futureFault, made } from './entry-query.ts'
import { type FoundProbe, probeOf } from './probe-lookup.ts'
import { calibrationsViewOf } from './probe-views.ts'
import { badInput } from './problem-details.ts'
import { calibrationsToldIn } from './units-told.ts'

const oneProbe = z.object({ id: z.string().max(100) })
const aCalibration = oneProbe.extend({ calibration: z.string().max(100) })
const aLife = oneProbe.extend({ life: z.string().max(100) })

/** Calibrations and lives of a probe. Raw values stay; what was computed from them follows. */
export function addCalibrationRoutes(door: Door, parts: ApiParts): void {
  const { record, desk, clock, live, log, house } = parts

  /** Corrected values are right already; what rests on them is derived anew. */
  async function follow({ tank }: FoundProbe, stretch: Readonly<{ fromMs: number }>): Promise<void> {
    if (tank.archivedAtMs === null)
      await desk.probesChanged({ tankId: tank.id, fromMs: Math.max(0, stretch.fromMs) })
  }

  door.get(
    '/api/probes/:id/calibrations',
    {
      schema: {
        summary: 'Calibrations of a probe, newest first, with the history of its slope',
        params: oneProbe,
        response: { 200: calibrationsView }
      }
    },
    async (request) =>
      calibrationsToldIn(
        calibrationsViewOf((await probeOf(record, request.params.id)).notes, clock()),
        house.settings()
      )
  )

  door.post(
    '/api/probes/:id/calibrations',
    {
      schema: {
        summary:
          'Calibrate: an electrode in two or more buffers, or an offset against a thermometer or test. A step counts from its time on, a line back to the calibration before',
        params: oneProbe,
        body: newCalibration,
        response: { 200: made, 201: made }
      }
    },
    async (request, reply) => {
      const found = await probeOf(record, request.params.id)
      const by = request.visitor?.label ?? 'nobody'
      checkMeasures(found, request.body)
      const entry = calibrationFrom(request.body, {
        probeId: found.probe.id,
        notes: found.notes,
        nowMs: clock(),
        by
      })
      const { id, repeated, ...stretch } = await record.addCalibration(entry)
      if (repeated) return reply.code(200).send({ id })
      log.info({ event: 'probe-calibrated', probe: found.probe.id })
      await follow(found, stretch)
      return reply.code(201).send({ id })
    }
  )

  door.delete(
    '/api/probes/:id/calibrations/:calibration',
    {
      schema: {
        summary: 'Withdraw a calibration; what it corrected is as it was before',
        params: aCalibration,
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      const found = await probeOf(record, request.params.id)
      const stretch = await record.withdrawCalibration({
        probeId: found.probe.id,
        id: request.params.calibration,
        by: request.visitor?.label ?? 'nobody',
        atMs: clock()
      })
      if (stretch === null) throw gone('calibration')
      await follow(found, stretch)
      return reply.code(204).send(null)
    }
  )

  door.post(
    '/api/probes/:id/lives',
    {
      schema: {
        summary:
          'Another electrode or sensor on the same board: calibrations of the one before no longer count',
        params: oneProbe,
        body: newLife,
        response: { 201: made }
      }
    },
    async (request, reply) => {
      const found = await probeOf(record, request.params.id)
      const nowMs = clock()
      const { from: fromMs = nowMs, note } = request.body
      const fault = futureFault(fromMs, nowMs, 'from')
      if (fault !== null) throw badInput([fault])
      const by = request.visitor?.label ?? 'nobody'
      const whole = { probeId: found.probe.id, fromMs, by, atMs: nowMs }
      const { id, ...stretch } = await record.addProbeLife({
        ...whole,
        ...(note === undefined ? {} : { note })
      })
      const event = await record.addEvent({
        tankId: found.tank.id,
        atMs: fromMs,
        kind: 'probe-changed',
        note: `Probe ${found.probe.name}${note === undefined ? '' : `: ${note}`}`,
        by,
        enteredAtMs: nowMs
      })
      const { tank } = found
      live.tell({
        event: 'event',
        data: { tankId: tank.id, id: event.id, kind: 'probe-changed', change: 'added' }
      })
      if (tank.archivedAtMs === null) await desk.entriesChanged({ tankId: tank.id, fromMs })
      await follow(found, stretch)
      return reply.code(201).send({ id })
    }
  )

  door.delete(
    '/api/probes/:id/lives/:life',
    {
      schema: {
        summary: 'Take back that another electrode or sensor was put in',
        params: aLife,
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      const found = await probeOf(record, request.params.id)
      const stretch = await record.withdrawProbeLife({
        probeId: found.probe.id,
        id: request.params.life,
        by: request.visitor?.label ?? 'nobody',
        atMs: clock()
      })
      if (stretch === null) throw gone('life')
      await follow(found, stretch)
      return reply.code(204).send(null)
    }
  )
}

function checkMeasures({ probe }: FoundProbe, given: z.infer<typeof newCalibration>): void {
  const wanted = given.kind === 'electrode' ? ['ph', 'ph-millivolts'] : [given.quantity]
  if (given.kind === 'offset' && given.quantity === 'ph') wanted.push('ph-millivolts')
  const measures = probe.quantities.map((one) => one.quantity as string)
  if (measures.some((one) => wanted.includes(one))) return
  throw badInput([
    { detail: `this probe measures ${measures.join(', ')}; calibrate one of these`, pointer: '#/kind' }
  ])
}

const gone = (what: string): HouseError =>
  new HouseError(
    'API_NOT_FOUND',
    `There is no ${what} of this id to take back, or it was taken back before. Load the probe again.`
  )
