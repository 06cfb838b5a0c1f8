import { z } from 'zod'
import {
  changedEvent,
  type EventView,
  eventView,
  faultsOfEventData,
  newEvent
} from '../contract/event-entry.ts'
import { HouseError } from '../errors.ts'
import type { EventData, TankEvent } from '../tank/event.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { amendmentView, entryQuery, futureFault, made, tankAndId } from './entry-query.ts'
import { checkMayEnter, type OwnEntries } from './own-entries.ts'
import { badInput } from './problem-details.ts'
import { livingTankOf, tankOf } from './tank-lookup.ts'

const oneTank = z.object({ tank: z.string() })
const everything = 1_000_000

/** What the keeper did: entered, listed, amended and taken back; what it said before is kept. */
export function addEventRoutes(door: Door, parts: ApiParts, ownEntries: OwnEntries): void {
  const { record, desk, clock, live } = parts

  door.get(
    '/api/tanks/:tank/events',
    {
      schema: {
        summary: 'Events, newest first',
        params: oneTank,
        querystring: entryQuery,
        response: { 200: z.array(eventView) }
      }
    },
    async (request) => {
      const { from, to, limit = 200 } = request.query
      const tank = await tankOf(record, request.params.tank)
      const events = await record.events({
        tankId: tank.id,
        limit,
        ...(from === undefined ? {} : { fromMs: from }),
        ...(to === undefined ? {} : { toMs: to })
      })
      return events.map(viewOf).sort((one, other) => other.atMs - one.atMs)
    }
  )

  door.post(
    '/api/tanks/:tank/events',
    {
      schema: {
        summary: 'Enter what was done; a repeated clientKey answers the first id',
        params: oneTank,
        body: newEvent,
        response: { 200: made, 201: made }
      }
    },
    async (request, reply) => {
      const { kind, atMs, data, note, clientKey } = request.body
      checkMayEnter(request.visitor, kind)
      const tank = await livingTankOf(record, request.params.tank)
      const nowMs = clock()
      checkTime(atMs, nowMs)
      const { id, repeated } = await record.addEvent({
        tankId: tank.id,
        atMs,
        kind,
        data: data as EventData | undefined,
        note,
        clientKey,
        by: request.visitor?.label ?? 'nobody',
        enteredAtMs: nowMs
      })
      if (repeated) return reply.code(200).send({ id })
      ownEntries.remember(request.visitor, id)
      await desk.entriesChanged({ tankId: tank.id, fromMs: atMs })
      live.tell({ event: 'event', data: { tankId: tank.id, id, kind, change: 'added' } })
      return reply.code(201).send({ id })
    }
  )

  door.patch(
    '/api/tanks/:tank/events/:id',
    {
      schema: {
        summary: 'Amend an event; its kind stays, and what it said before is kept',
        params: tankAndId,
        body: changedEvent,
        response: { 200: eventView }
      }
    },
    async (request) => {
      const tank = await livingTankOf(record, request.params.tank)
      const { atMs, data, note } = request.body
      checkTime(atMs, clock())
      const before = await eventOf(tank.id, request.params.id)
      if (data !== undefined) checkData(before, data)
      const body = {
        ...(atMs === undefined ? {} : { atMs }),
        ...(data === undefined ? {} : { data: data as EventData }),
        ...(note === undefined ? {} : { note })
      }
      await change(tank.id, before, body, request.visitor?.label)
      await desk.entriesChanged({ tankId: tank.id, fromMs: Math.min(before.atMs, atMs ?? Infinity) })
      live.tell({
        event: 'event',
        data: { tankId: tank.id, id: before.id, kind: before.kind, change: 'amended' }
      })
      return viewOf(await eventOf(tank.id, before.id))
    }
  )

  door.delete(
    '/api/tanks/:tank/events/:id',
    {
      schema: {
        summary: 'Take an event back; what it said is kept aside',
        params: tankAndId,
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      ownEntries.checkMayTakeBack(request.visitor, request.params.id)
      const tank = await livingTankOf(record, request.params.tank)
      const before = await eventOf(tank.id, request.params.id)
      await change(tank.id, before, null, request.visitor?.label)
      await desk.entriesChanged({ tankId: tank.id, fromMs: before.atMs })
      live.tell({
        event: 'event',
        data: { tankId: tank.id, id: before.id, kind: before.kind, change: 'withdrawn' }
      })
      return reply.code(204).send(null)
    }
  )

  door.get(
    '/api/tanks/:tank/events/:id/amendments',
    {
      schema: {
        summary: 'What an event said before it was amended',
        params: tankAndId,
        response: { 200: z.array(amendmentView) }
      }
    },
    async (request) => {
      const tank = await tankOf(record, request.params.tank)
      const amendments = await record.amendments({ tankId: tank.id, id: request.params.id })
      return amendments.map((one) => ({ ...one, before: { ...one.before } }))
    }
  )

  async function eventOf(tankId: string, id: string): Promise<TankEvent> {
    const found = (await record.events({ tankId, limit: everything })).find((event) => event.id === id)
    if (found !== undefined) return found
    throw noEvent()
  }

  async function change(
    tankId: string,
    { id }: TankEvent,
    body: Parameters<typeof record.changeEvent>[0]['body'],
    by = 'nobody'
  ): Promise<void> {
    if (!(await record.changeEvent({ tankId, id, body, by, atMs: clock() }))) throw noEvent()
  }
}

const noEvent = (): HouseError =>
  new HouseError(
    'API_NOT_FOUND',
    'There is no such event here, or it was taken back already. Load the list again.'
  )

function checkTime(atMs: number | undefined, nowMs: number): void {
  const fault = futureFault(atMs, nowMs, 'atMs')
  if (fault !== null) throw badInput([fault])
}

function checkData({ kind }: TankEvent, data: unknown): void {
  const faults = faultsOfEventData(kind, data)
  if (faults.length === 0) return
  throw badInput(
    faults.map((fault) => {
      const [path = '', ...words] = fault.split(': ')
      const field = path === '' ? '' : `/${path.replaceAll('.', '/')}`
      return { detail: words.join(': '), pointer: `#/data${field}` }
    })
  )
}

const viewOf = ({ data, ...event }: TankEvent): EventView =>
  data === undefined ? { ...event } : { ...event, data: { ...data } }
