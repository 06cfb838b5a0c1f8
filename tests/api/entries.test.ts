import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
let cookie: string
beforeEach(async () => {
  house = await openTestHouse()
  cookie = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id: 'kitchen' } })
  house.desk.heard.length = 0
})
afterEach(() => house.close())

const base = '/api/tanks/kitchen'
const enter = async (what: 'tests' | 'events', body: object) => {
  const answer = await house.ask('POST', `${base}/${what}`, { cookie, body })
  return { status: answer.status, id: (answer.body as { id: string }).id }
}
const ammonia = (value: number) => ({
  takenAt: house.clock.nowMs - 60_000,
  results: [{ quantity: 'ammonia', value, unit: 'mg/L' }]
})
const change = () => ({ atMs: house.clock.nowMs - 60_000, kind: 'water-changed', data: { fraction: 0.25 } })

describe('an entry', () => {
  it('answers 201 with its id, once the record holds it, and tells the desk from when on to look again', async () => {
    const { status, id } = await enter('tests', ammonia(0.5))
    expect(status).toBe(201)
    expect(await house.record.tests({ tankId: 'kitchen' })).toMatchObject([{ id }])
    expect(house.desk.heard).toEqual([`entriesChanged kitchen ${house.clock.nowMs - 60_000}`])
  })

  it('sent again with the same clientKey answers the first id and is stored once', async () => {
    for (const [what, body] of [
      ['tests', { ...ammonia(0.5), clientKey: 'tap-1' }],
      ['events', { ...change(), clientKey: 'tap-1' }]
    ] as const) {
      const first = await enter(what, body)
      const again = await enter(what, body)
      expect(again).toEqual({ status: 200, id: first.id })
      expect((await house.ask('GET', `${base}/${what}`, { cookie })).body).toHaveLength(1)
    }
    expect(house.desk.heard).toHaveLength(2)
  })

  it('is amended: the new words show, the old ones are kept', async () => {
    const { id } = await enter('tests', ammonia(5))
    const results = [{ quantity: 'ammonia', value: 0.5, unit: 'mg/L' }]
    const amended = await house.ask('PATCH', `${base}/tests/${id}`, { cookie, body: { results } })
    expect(amended.body).toMatchObject({ id, amended: true, results: [{ value: 0.5, basis: 'NH3' }] })
    const kept = await house.ask('GET', `${base}/tests/${id}/amendments`, { cookie })
    expect(kept.body).toMatchObject([
      { by: 'keeper', withdrawn: false, before: { id, results: [{ value: 5 }] } }
    ])
  })

  it('moved to an earlier time is looked at from that time on', async () => {
    const { id } = await enter('events', change())
    const earlier = house.clock.nowMs - 7_200_000
    house.desk.heard.length = 0
    const amended = await house.ask('PATCH', `${base}/events/${id}`, { cookie, body: { atMs: earlier } })
    expect(amended.body).toMatchObject({ atMs: earlier, data: { fraction: 0.25 }, amended: true })
    expect(house.desk.heard).toEqual([`entriesChanged kitchen ${earlier}`])
  })

  it('is undone: it is gone from the list, cannot be undone twice, and what it said is kept', async () => {
    for (const what of ['tests', 'events'] as const) {
      const { id } = await enter(what, what === 'tests' ? ammonia(1) : change())
      expect((await house.ask('DELETE', `${base}/${what}/${id}`, { cookie })).status).toBe(204)
      expect((await house.ask('GET', `${base}/${what}`, { cookie })).body).toEqual([])
      expect((await house.ask('DELETE', `${base}/${what}/${id}`, { cookie })).status).toBe(404)
      const kept = await house.ask('GET', `${base}/${what}/${id}/amendments`, { cookie })
      expect(kept.body).toMatchObject([{ withdrawn: true, before: { id } }])
    }
  })

  it('of one tank cannot be reached through another', async () => {
    await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id: 'other' } })
    const { id } = await enter('tests', ammonia(1))
    expect((await house.ask('DELETE', `/api/tanks/other/tests/${id}`, { cookie })).status).toBe(404)
    expect((await house.ask('PATCH', `/api/tanks/other/tests/${id}`, { cookie, body: {} })).status).toBe(404)
  })

  it('keeps the basis it was read in when the kit changes later', async () => {
    await enter('tests', {
      ...ammonia(1),
      results: [
        { quantity: 'ammonia', value: 1, unit: 'mg/L' },
        { quantity: 'nitrate', value: 10, unit: 'mg/L', basis: 'N' },
        { quantity: 'ph', value: 7, unit: 'pH' }
      ]
    })
    const kit = { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' }
    await house.ask('PATCH', base, { cookie, body: { kit } })
    const [test] = await house.record.tests({ tankId: 'kitchen' })
    expect(test?.results.map((result) => result.basis)).toEqual(['NH3', 'N', undefined])
  })
})

describe('an event', () => {
  const bad: readonly [string, object, string][] = [
    ['a water change without an amount', { kind: 'water-changed' }, '#/data/fraction'],
    [
      'a water change of 30 instead of 0.3',
      { kind: 'water-changed', data: { fraction: 30 } },
      '#/data/fraction'
    ],
    [
      'half a fish',
      { kind: 'fish-added', data: { speciesId: 'puntius-titteya', count: 0.5 } },
      '#/data/count'
    ],
    ['fish without a number', { kind: 'fish-died', data: { speciesId: 'puntius-titteya' } }, '#/data/count'],
    ['a kind nobody knows', { kind: 'fish-flew' }, '#/kind'],
    ['data of another kind', { kind: 'fed', data: { litres: 3 } }, '#/data']
  ]
  for (const [name, event, pointer] of bad)
    it(`refuses ${name}`, async () => {
      const body = { atMs: house.clock.nowMs, ...event }
      const answer = await house.ask('POST', `${base}/events`, { cookie, body })
      expect(answer.status).toBe(422)
      expect(answer.body).toMatchObject({ errors: [{ pointer }] })
    })

  it('keeps its kind when amended, and checks its data against it', async () => {
    const { id } = await enter('events', change())
    const amend = (body: object) => house.ask('PATCH', `${base}/events/${id}`, { cookie, body })
    expect((await amend({ kind: 'fed' })).status).toBe(422)
    expect((await amend({ data: { fraction: 25 } })).body).toMatchObject({
      errors: [{ pointer: '#/data/fraction' }]
    })
    expect((await amend({ data: { litres: 24 } })).body).toMatchObject({ data: { litres: 24 } })
  })
})
