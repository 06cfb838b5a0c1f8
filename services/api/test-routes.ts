import { z } from 'zod'
import { changedTest, newTest, type TestView, testView } from '../contract/test-entry.ts'
import { HouseError } from '../errors.ts'
import type { Basis, ManualTest, TestResult } from '../tank/manual-test.ts'
import type { Kit } from '../tank/profile.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { amendmentView, entryQuery, futureFault, made, tankAndId } from './entry-query.ts'
import { checkMayTest, type OwnEntries } from './own-entries.ts'
import { badInput } from './problem-details.ts'
import { livingTankOf, tankOf } from './tank-lookup.ts'

const oneTank = z.object({ tank: z.string() })
const everything = 1_000_000

/** Water tests: entered, listed, amended and taken back; what they said before is kept. */
export function addTestRoutes(door: Door, parts: ApiParts, ownEntries: OwnEntries): void {
  const { record, desk, clock, live, house } = parts

  door.get(
    '/api/tanks/:tank/tests',
    {
      schema: {
        summary: 'Water tests, newest first',
        params: oneTank,
        querystring: entryQuery,
        response: { 200: z.array(testView) }
      }
    },
    async (request) => {
      const { from, to, limit = 200 } = request.query
      const tank = await tankOf(record, request.params.tank)
      const tests = await record.tests({
        tankId: tank.id,
        limit,
        ...(from === undefined ? {} : { fromMs: from }),
        ...(to === undefined ? {} : { toMs: to })
      })
      return tests.map(viewOf).sort((one, other) => other.takenAtMs - one.takenAtMs)
    }
  )

  door.post(
    '/api/tanks/:tank/tests',
    {
      schema: {
        summary: 'Enter a water test; a repeated clientKey answers the first id',
        params: oneTank,
        body: newTest,
        response: { 200: made, 201: made }
      }
    },
    async (request, reply) => {
      checkMayTest(request.visitor, house.settings().tabletsMayTest)
      const tank = await livingTankOf(record, request.params.tank)
      const { takenAt, results, note, clientKey } = request.body
      const nowMs = clock()
      checkTime(takenAt, nowMs)
      const { id, repeated } = await record.addTest({
        tankId: tank.id,
        takenAtMs: takenAt,
        results: withBases(results, tank.profile.kit),
        note,
        clientKey,
        by: request.visitor?.label ?? 'nobody',
        atMs: nowMs
      })
      if (repeated) return reply.code(200).send({ id })
      ownEntries.remember(request.visitor, id)
      await desk.entriesChanged({ tankId: tank.id, fromMs: takenAt })
      live.tell({ event: 'test', data: { tankId: tank.id, id, change: 'added' } })
      return reply.code(201).send({ id })
    }
  )

  door.patch(
    '/api/tanks/:tank/tests/:id',
    {
      schema: {
        summary: 'Amend a water test; what it said before is kept',
        params: tankAndId,
        body: changedTest,
        response: { 200: testView }
      }
    },
    async (request) => {
      const tank = await livingTankOf(record, request.params.tank)
      const { takenAt, results, note } = request.body
      checkTime(takenAt, clock())
      const before = await testOf(tank.id, request.params.id)
      const body = {
        ...(takenAt === undefined ? {} : { takenAtMs: takenAt }),
        ...(results === undefined ? {} : { results: withBases(results, tank.profile.kit) }),
        ...(note === undefined ? {} : { note })
      }
      await change(tank.id, before, body, request.visitor?.label)
      await desk.entriesChanged({ tankId: tank.id, fromMs: Math.min(before.takenAtMs, takenAt ?? Infinity) })
      live.tell({ event: 'test', data: { tankId: tank.id, id: before.id, change: 'amended' } })
      return viewOf(await testOf(tank.id, before.id))
    }
  )

  door.delete(
    '/api/tanks/:tank/tests/:id',
    {
      schema: {
        summary: 'Take a water test back; what it said is kept aside',
        params: tankAndId,
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      ownEntries.checkMayTakeBack(request.visitor, request.params.id)
      const tank = await livingTankOf(record, request.params.tank)
      const before = await testOf(tank.id, request.params.id)
      await change(tank.id, before, null, request.visitor?.label)
      await desk.entriesChanged({ tankId: tank.id, fromMs: before.takenAtMs })
      live.tell({ event: 'test', data: { tankId: tank.id, id: before.id, change: 'withdrawn' } })
      return reply.code(204).send(null)
    }
  )

  door.get(
    '/api/tanks/:tank/tests/:id/amendments',
    {
      schema: {
        summary: 'What a water test said before it was amended',
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

  async function testOf(tankId: string, id: string): Promise<ManualTest> {
    const found = (await record.tests({ tankId, limit: everything })).find((test) => test.id === id)
    if (found !== undefined) return found
    throw noTest()
  }

  async function change(
    tankId: string,
    { id }: ManualTest,
    body: Parameters<typeof record.changeTest>[0]['body'],
    by = 'nobody'
  ): Promise<void> {
    if (!(await record.changeTest({ tankId, id, body, by, atMs: clock() }))) throw noTest()
  }
}

const noTest = (): HouseError =>
  new HouseError(
    'API_NOT_FOUND',
    'There is no such water test here, or it was taken back already. Load the list again.'
  )

function checkTime(takenAt: number | undefined, nowMs: number): void {
  const fault = futureFault(takenAt, nowMs, 'takenAt')
  if (fault !== null) throw badInput([fault])
}

/** Each nitrogen result keeps the basis it was read in: the kit in the profile may change later, the result may not. */
function withBases(results: z.infer<typeof newTest>['results'], kit: Kit): readonly TestResult[] {
  const byQuantity: Readonly<Record<string, Basis>> = {
    ammonia: kit.ammoniaBasis,
    nitrite: kit.nitriteBasis,
    nitrate: kit.nitrateBasis
  }
  return results.map((result) => {
    const basis = result.basis ?? byQuantity[result.quantity]
    return basis === undefined ? result : { ...result, basis }
  })
}

const viewOf = ({ results, ...test }: ManualTest): TestView => ({
  ...test,
  results: results.map((result) => ({ ...result }))
})
