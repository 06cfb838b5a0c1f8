import { z } from 'zod'
import {
  changedTank,
  newTank,
  type TankProfileBody,
  type TankView,
  tankId,
  tankView
} from '../contract/tank-profile.ts'
import { HouseError } from '../errors.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { StoredTank, TankRecord } from '../tank/record.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { everyTank, livingTankOf, tankOf } from './tank-lookup.ts'
import { tankSlug } from './tank-slug.ts'

const yesNo = z.enum(['true', 'false']).optional()
const oneTank = z.object({ tank: z.string() })
/** What the carried and the toxic ammonia are worked out from: a change of these re-derives the history. */
const derivedFrom: readonly string[] = [
  'volumeL',
  'khDKh',
  'salinityGkg',
  'chlorideMgL',
  'tap',
  'kit',
  'start',
  'species'
]

const viewOf = (tank: StoredTank): TankView => ({
  id: tank.id,
  profile: tank.profile as TankProfileBody,
  createdAtMs: tank.createdAtMs,
  archivedAtMs: tank.archivedAtMs
})

/** The tanks that are lived in, as the page is told of them. */
export const livingTanks = async (record: Pick<TankRecord, 'tanks'>): Promise<TankView[]> =>
  (await record.tanks()).map(viewOf)

/** Tanks: made, changed, put away, erased. */
export function addTankRoutes(door: Door, parts: ApiParts): void {
  const { record, desk, clock, live, log } = parts

  door.get(
    '/api/tanks',
    {
      schema: {
        summary: 'The tanks; with archived=true those put away too',
        querystring: z.object({ archived: yesNo }),
        response: { 200: z.array(tankView) }
      }
    },
    async (request) =>
      request.query.archived === 'true' ? (await everyTank(record)).map(viewOf) : livingTanks(record)
  )

  door.post(
    '/api/tanks',
    { schema: { summary: 'Make a tank', body: newTank, response: { 201: z.object({ id: z.string() }) } } },
    async (request, reply) => {
      const { id: given, ...profile } = request.body
      const id = given ?? tankSlug(profile.name, await takenIds())
      if ((await record.addTank({ id, profile, atMs: clock() })) === 'taken')
        throw new HouseError(
          'API_CONFLICT',
          `There is, or was, a tank "${id}". Ids are never given twice: choose another, or erase the old tank first.`
        )
      // What its probes sent before it existed has waited for it.
      const admitted = await record.admitHeld(id)
      await desk.tankAdded(id)
      log.info({ event: 'tank-added', tank: id, heldReadings: admitted.length })
      await live.tellStatus()
      return reply.code(201).send({ id })
    }
  )

  async function takenIds(): Promise<(id: string) => boolean> {
    const taken = new Set((await everyTank(record)).map((tank) => tank.id))
    // A waiting tank's readings belong to the tank its topic names, not to one that merely sounds like it.
    for (const waiting of await record.heldTanks()) taken.add(waiting.tankId)
    return (id) => taken.has(id)
  }

  door.get(
    '/api/tanks/:tank',
    { schema: { summary: 'One tank and its profile', params: oneTank, response: { 200: tankView } } },
    async (request) => viewOf(await tankOf(record, request.params.tank))
  )

  door.patch(
    '/api/tanks/:tank',
    {
      schema: {
        summary: 'Change fields of a profile; what is left out stays',
        params: oneTank,
        body: changedTank,
        response: { 200: tankView }
      }
    },
    async (request) => {
      const tank = await livingTankOf(record, request.params.tank)
      const changes = request.body
      const profile = withChanges(tank.profile, changes)
      const nowMs = clock()
      await record.changeTank({ id: tank.id, profile, atMs: nowMs, by: request.visitor?.label ?? 'nobody' })
      const rederives = Object.keys(changes).some((name) => derivedFrom.includes(name))
      await desk.entriesChanged({ tankId: tank.id, fromMs: rederives ? tank.createdAtMs : nowMs })
      await live.tellStatus()
      return viewOf({ ...tank, profile })
    }
  )

  door.delete(
    '/api/tanks/:tank',
    {
      schema: {
        summary: 'Put a tank away; with erase=true everything about it is gone for ever',
        params: z.object({ tank: tankId }),
        querystring: z.object({ erase: yesNo }),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      const { id, archivedAtMs } = await tankOf(record, request.params.tank)
      const erase = request.query.erase === 'true'
      if (erase) await record.eraseTank(id)
      else if (archivedAtMs === null) await record.archiveTank({ id, atMs: clock() })
      desk.tankRemoved(id)
      log.info({ event: erase ? 'tank-erased' : 'tank-archived', tank: id })
      await live.tellStatus()
      return reply.code(204).send(null)
    }
  )
}

/** A profile with some fields replaced; what comes as null is taken out. */
function withChanges(profile: TankProfile, changes: Readonly<Record<string, unknown>>): TankProfile {
  const merged = { ...profile, ...changes }
  return Object.fromEntries(
    Object.entries(merged).filter(([, value]) => value !== undefined && value !== null)
  ) as unknown as TankProfile
}
