import { afterEach, beforeEach, expect, it } from 'vitest'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
let cookie: string
let ids: Readonly<Record<string, string>>
beforeEach(async () => {
  house = await openTestHouse()
  cookie = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie, body: profile })
  await house.record.appendReadings([says('t1'), says('t2')])
  const probes = (await house.ask('GET', '/api/probes', { cookie })).body as { id: string; name: string }[]
  ids = Object.fromEntries(probes.map(({ id, name }) => [name, id]))
})
afterEach(() => house.close())

const says = (probe: string) => ({
  tankId: 'kitchen',
  probe,
  quantity: 'temperature' as const,
  value: 24.5,
  atMs: house.clock.nowMs,
  arrivedAtMs: house.clock.nowMs,
  clock: 'device' as const,
  flag: 1 as const
})
const change = (name: string, body: object, as = cookie) =>
  house.ask('PATCH', `/api/probes/${ids[name]}`, { cookie: as, body })
const look = (name: string) => house.ask('GET', `/api/probes/${ids[name]}`, { cookie })
const leading = async () =>
  ((await house.ask('GET', '/api/probes', { cookie })).body as { name: string; quantities: object[] }[]).map(
    ({ name, quantities: [first] }) => ({ name, leads: (first as { leading: boolean }).leading })
  )

it('a probe is taken out of the tank and put back; the next one leads meanwhile and goes on', async () => {
  expect((await look('t1')).body).toMatchObject({ outSinceMs: null })
  const { nowMs } = house.clock
  expect(await change('t1', { inTank: false })).toMatchObject({ status: 200, body: { outSinceMs: nowMs } })
  expect(await leading()).toEqual([
    { name: 't1', leads: false },
    { name: 't2', leads: true }
  ])
  // Said twice it is the same, since the first time.
  house.clock.nowMs += 60_000
  expect((await change('t1', { inTank: false })).body).toMatchObject({ outSinceMs: nowMs })
  expect((await change('t1', { inTank: true })).body).toMatchObject({ outSinceMs: null })
  expect(await leading()).toEqual([
    { name: 't1', leads: false },
    { name: 't2', leads: true }
  ])
  const series = await house.ask('GET', '/api/tanks/kitchen/series/temperature?probe=t1', { cookie })
  expect(
    (series.body as { points: { count: number }[] }).points.reduce((sum, one) => sum + one.count, 0)
  ).toBe(1)
})

it('a board goes on under the name its probe had, or under the new one', async () => {
  expect((await change('t1', { name: 'surface' })).status).toBe(200)
  house.clock.nowMs += 60_000
  const [old] = await house.record.appendReadings([says('t1')])
  house.clock.nowMs += 60_000
  const [renamed] = await house.record.appendReadings([says('surface')])
  expect([old, renamed].map((one) => [one?.probeId, one?.newProbe, one?.probeName])).toEqual([
    [ids.t1, false, 'surface'],
    [ids.t1, false, 'surface']
  ])
})

it.each([
  [{ inTank: 'no' }, '#/inTank'],
  [{ inTank: null }, '#/inTank'],
  [{ inTank: false, leads: 'temperature' }, '#/leads']
])('%j is refused, and says which field', async (body, pointer) => {
  const answer = await change('t1', body)
  expect(answer).toMatchObject({ status: 422, body: { code: 'API_BAD_INPUT', errors: [{ pointer }] } })
  expect((await look('t1')).body).toMatchObject({ outSinceMs: null })
})

it('what is out of the tank cannot lead; it is put back with the same word', async () => {
  await change('t1', { inTank: false })
  const refused = await change('t1', { leads: 'temperature' })
  expect(refused).toMatchObject({ status: 422 })
  expect(refused.text).toMatch(/out of the tank cannot lead; put it back first/)
  expect((await change('t1', { inTank: true, leads: 'temperature' })).status).toBe(200)
  expect((await leading())[0]).toEqual({ name: 't1', leads: true })
})

it.each(['helper', 'wall'] as const)('is no matter of a %s', async (role) => {
  expect((await change('t1', { inTank: false }, await house.enter(role))).status).toBe(403)
  expect((await look('t1')).body).toMatchObject({ outSinceMs: null })
})
