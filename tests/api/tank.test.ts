import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { makeBoardGate } from '../../services/api/board-gate.ts'
import { makePasswordHashing } from '../../services/api/password-hash.ts'
import { tankSlug } from '../../services/api/tank-slug.ts'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
let cookie: string
beforeEach(async () => {
  house = await openTestHouse()
  cookie = await house.enter('keeper')
})
afterEach(() => house.close())

const make = (body: object) => house.ask('POST', '/api/tanks', { cookie, body: { ...profile, ...body } })
const probeSays = (tankId: string) => ({
  tankId,
  probe: 't1',
  quantity: 'temperature' as const,
  value: 24.5,
  atMs: house.clock.nowMs - 1000,
  arrivedAtMs: house.clock.nowMs,
  clock: 'device' as const,
  flag: 1 as const
})

describe('the id of a tank', () => {
  const cases: readonly [string, string][] = [
    ['Kitchen', 'kitchen'],
    ['  The Big One! ', 'the-big-one'],
    ['Wohnzimmer Süd', 'wohnzimmer-sud'],
    ['Straße 3', 'strasse-3'],
    ['水槽', 'tank'],
    ['---', 'tank'],
    ['A very long name of a tank that goes on and on', 'a-very-long-name-of-a-tank-that']
  ]
  for (const [name, id] of cases)
    it(`made from "${name}" is ${id}`, () => {
      expect(tankSlug(name, () => false)).toBe(id)
      expect(id).toMatch(/^[a-z0-9-]{1,32}$/)
    })

  it('is never given twice, not even after the tank was put away', async () => {
    expect((await make({})).body).toEqual({ id: 'kitchen' })
    expect((await make({})).body).toEqual({ id: 'kitchen-2' })
    await house.ask('DELETE', '/api/tanks/kitchen-2', { cookie })
    expect((await make({})).body).toEqual({ id: 'kitchen-3' })
    expect((await make({ id: 'kitchen-2' })).body).toMatchObject({ code: 'API_CONFLICT' })
  })
})

describe('a tank', () => {
  it('takes in what its probes sent before it was made', async () => {
    await house.record.holdReadings([probeSays('kitchen')])
    const waiting = await house.ask('GET', '/api/refused', { cookie })
    expect(waiting.body).toMatchObject({ waitingTanks: [{ tankId: 'kitchen', count: 1, probes: ['t1'] }] })
    await make({ id: 'kitchen' })
    const probes = await house.ask('GET', '/api/probes?tank=kitchen', { cookie })
    expect(probes.body).toMatchObject([
      { name: 't1', quantities: [{ quantity: 'temperature', lastValue: 24.5 }] }
    ])
    expect((await house.ask('GET', '/api/refused', { cookie })).body).toMatchObject({ waitingTanks: [] })
    expect(house.desk.heard).toEqual(['tankAdded kitchen'])
  })

  it('does not take the readings of a waiting tank whose name it only resembles', async () => {
    await house.record.holdReadings([probeSays('kitchen')])
    expect((await make({ name: 'Kitchen' })).body).toEqual({ id: 'kitchen-2' })
  })

  it('changes field by field, and history is worked out again only where it hangs on the field', async () => {
    await make({})
    const createdAtMs = house.clock.nowMs
    house.clock.nowMs += 3_600_000
    house.desk.heard.length = 0
    const patch = (body: object) => house.ask('PATCH', '/api/tanks/kitchen', { cookie, body })
    expect((await patch({ setpointC: 25 })).body).toMatchObject({ profile: { setpointC: 25, volumeL: 96 } })
    expect((await patch({ volumeL: 90 })).body).toMatchObject({ profile: { setpointC: 25, volumeL: 90 } })
    expect((await patch({ volumeL: -1 })).status).toBe(422)
    expect(house.desk.heard).toEqual([
      `entriesChanged kitchen ${house.clock.nowMs}`,
      `entriesChanged kitchen ${createdAtMs}`
    ])
  })

  it('put away is read only, and erased is gone', async () => {
    await make({})
    await house.ask('DELETE', '/api/tanks/kitchen', { cookie })
    expect((await house.ask('GET', '/api/tanks', { cookie })).body).toEqual([])
    expect((await house.ask('GET', '/api/tanks?archived=true', { cookie })).body).toMatchObject([
      { id: 'kitchen' }
    ])
    expect((await house.ask('GET', '/api/tanks/kitchen/tests', { cookie })).status).toBe(200)
    const event = { atMs: house.clock.nowMs, kind: 'fed' }
    const refused = await house.ask('POST', '/api/tanks/kitchen/events', { cookie, body: event })
    expect(refused.body).toMatchObject({ code: 'API_WRONG_STATE' })
    await house.ask('DELETE', '/api/tanks/kitchen?erase=true', { cookie })
    expect((await house.ask('GET', '/api/tanks?archived=true', { cookie })).body).toEqual([])
    expect((await house.ask('DELETE', '/api/tanks/kitchen', { cookie })).status).toBe(404)
  })

  it('answers its series at no more points than asked for', async () => {
    await make({})
    const batch = Array.from({ length: 600 }, (_, minute) => ({
      ...probeSays('kitchen'),
      atMs: house.clock.nowMs - minute * 60_000
    }))
    await house.record.appendReadings(batch)
    const answer = await house.ask('GET', '/api/tanks/kitchen/series/temperature?points=100', { cookie })
    const series = answer.body as { stepMs: number; points: { count: number; mean: number }[] }
    expect(series.points.length).toBeGreaterThan(0)
    expect(series.points.length).toBeLessThanOrEqual(100)
    expect(series.points.reduce((sum, point) => sum + point.count, 0)).toBe(600)
    expect(series.points[0]?.mean).toBeCloseTo(24.5, 6)
    for (const url of ['series/salt', 'series/temperature?points=5001', 'series/ph?from=2&to=1'])
      expect((await house.ask('GET', `/api/tanks/kitchen/${url}`, { cookie })).status, url).toBe(422)
  })

  it('gives probes new names, each name to one probe', async () => {
    await make({})
    await house.record.appendReadings([probeSays('kitchen'), { ...probeSays('kitchen'), probe: 't2' }])
    const probes = (await house.ask('GET', '/api/probes', { cookie })).body as { id: string; name: string }[]
    const [first] = probes
    const rename = (name: string) =>
      house.ask('PATCH', `/api/probes/${first?.id}`, { cookie, body: { name } })
    const other = probes.find((probe) => probe.id !== first?.id)?.name ?? ''
    expect((await rename(other)).body).toMatchObject({ code: 'API_CONFLICT' })
    expect((await rename('surface')).body).toMatchObject({ name: 'surface' })
    expect((await rename('no/slash')).status).toBe(422)
  })

  it('comes and goes as a file', async () => {
    await make({})
    const out = await house.ask('GET', '/api/tanks/kitchen/export.csv', { cookie })
    expect(out.headers['content-type']).toBe('text/csv; charset=utf-8')
    expect(out.headers['content-disposition']).toBe('attachment; filename="kitchen.csv"')
    expect(out.text.split('\r\n')[0]).toBe('time,kind,quantity,value,unit,basis,probe,flag,note')
    const headers = { 'content-type': 'text/csv' }
    const back = await house.ask('POST', '/api/tanks/kitchen/import', { cookie, raw: out.text, headers })
    expect(back.body).toMatchObject({ skipped: [], fromMs: 1000 })
    expect((await house.ask('POST', '/api/tanks/kitchen/import', { cookie, body: {} })).status).toBe(415)
  })
})

describe('a board', () => {
  it('gets a password that is shown once, opens the door of the broker, and is withdrawn', async () => {
    await make({})
    const made = await house.ask('POST', '/api/boards', {
      cookie,
      body: { name: 'esp-1', tankIds: ['kitchen'] }
    })
    expect(made.status).toBe(201)
    const { id, password } = made.body as { id: string; password: string }
    expect((await house.ask('GET', '/api/boards', { cookie })).text).not.toContain(password)
    expect(JSON.stringify(await house.record.boards())).not.toContain(password)
    const check = makeBoardGate({
      record: house.record,
      hashing: makePasswordHashing({ logN: 4 }),
      clock: () => house.clock.nowMs
    })
    expect(await check('esp-1', password)).toMatchObject({ id, tankIds: ['kitchen'] })
    expect(await check('esp-1', password)).toMatchObject({ id })
    expect(await check('esp-1', `${password}x`)).toBeNull()
    expect(await check('esp-2', password)).toBeNull()
    await house.ask('DELETE', `/api/boards/${id}`, { cookie })
    expect(await check('esp-1', password)).toBeNull()
  })

  it('that is guessed at does not lock out the same board at another address', async () => {
    await make({})
    const made = await house.ask('POST', '/api/boards', {
      cookie,
      body: { name: 'esp-1', tankIds: ['kitchen'] }
    })
    const { password } = made.body as { password: string }
    const hashing = makePasswordHashing({ logN: 4 })
    const check = makeBoardGate({ record: house.record, hashing, clock: () => house.clock.nowMs })
    for (let tried = 0; tried < 6; tried += 1) await check('esp-1', 'guess', '192.0.2.1')
    expect(await check('esp-1', password, '192.0.2.1')).toBeNull()
    expect(await check('esp-1', password, '192.0.2.2')).not.toBeNull()
  })

  it('needs tanks that exist and a name of its own', async () => {
    await make({})
    const add = (name: string, tankIds: string[]) =>
      house.ask('POST', '/api/boards', { cookie, body: { name, tankIds } })
    expect((await add('esp-1', ['kitchen', 'cellar'])).body).toMatchObject({
      errors: [{ pointer: '#/tankIds/1' }]
    })
    expect((await add('esp-1', ['kitchen'])).status).toBe(201)
    expect((await add('esp-1', ['kitchen'])).body).toMatchObject({ code: 'API_CONFLICT' })
    expect((await add('esp/+#', ['kitchen'])).status).toBe(422)
  })
})

describe('a tablet', () => {
  it('joins once with a code behind the # of a QR picture, and stays for a year unseen', async () => {
    const invited = await house.ask('POST', '/api/tablets', { cookie, body: { label: 'hall' } })
    const { code, url, qrSvg } = invited.body as { code: string; url: string; qrSvg: string }
    expect(url).toBe(`http://localhost:4680/join#${code}`)
    expect(qrSvg).toMatch(/^<svg[^>]*>/)
    expect(qrSvg).not.toMatch(/script|onload/)
    const join = () => house.ask('POST', '/api/tablets/join', { body: { code: code.toLowerCase() } })
    const joined = await join()
    expect(joined.body).toMatchObject({ role: 'wall', label: 'hall' })
    expect((await join()).body).toMatchObject({ code: 'API_WRONG_CODE' })
    house.clock.nowMs += 365 * 86_400_000
    expect((await house.ask('GET', '/api/tanks', { cookie: joined.cookie })).status).toBe(200)
  })

  it('that comes too late with its code stays outside', async () => {
    const invited = await house.ask('POST', '/api/tablets', { cookie, body: { label: 'hall' } })
    house.clock.nowMs += 10 * 60_000
    const { code } = invited.body as { code: string }
    expect((await house.ask('POST', '/api/tablets/join', { body: { code } })).status).toBe(403)
  })
})
