import mqtt from 'mqtt'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  type Ask,
  type HouseProcess,
  kitchen,
  makeDataDir,
  removeDataDir,
  startHouse,
  until
} from './house-process.ts'

const dataDir = makeDataDir()
let house: HouseProcess
let ask: Ask
let board: mqtt.MqttClient
beforeAll(async () => {
  house = await startHouse({ dataDir })
  ask = await house.login()
  board = await mqtt.connectAsync(`mqtt://127.0.0.1:${house.mqttPort}`, { clientId: 'garage' })
  expect((await ask('POST', '/api/tanks', kitchen)).status).toBe(201)
  expect((await ask('POST', '/api/tanks', { ...kitchen, id: 'den', name: 'Den' })).status).toBe(201)
})
afterAll(async () => {
  await board?.endAsync(true)
  await house?.kill('SIGTERM')
  removeDataDir(dataDir)
})

type Heard = {
  listeningUntilMs: number
  topics: { topic: string; numbers: { pointer: string; value: number }[]; assigned: boolean }[]
  assignments: { id: string; topic: string }[]
}
type Now = { readings: Record<string, { value: number; unit: string; probe: string } | undefined> }
const now = async (tank = 'kitchen') => (await ask('GET', `/api/tanks/${tank}/now`)).body as Now
const heard = async () => (await ask('GET', '/api/heard')).body as Heard
const publish = (topic: string, payload: string) => board.publishAsync(topic, payload, { qos: 1 })
const pond = '{"water":{"temp":"75.2"},"room":19.5,"words":"do not keep these"}'

describe('a topic that is not ours', () => {
  test('is heard only while somebody looks, with the numbers in it and no word of it', async () => {
    await publish('garage/early', '1')
    expect((await heard()).topics).toEqual([])
    await publish('garage/pond', pond)
    const answer = await heard()
    expect(answer.listeningUntilMs).toBeGreaterThan(Date.now())
    expect(answer.topics).toMatchObject([
      {
        topic: 'garage/pond',
        numbers: [
          { pointer: '/water/temp', value: 75.2 },
          { pointer: '/room', value: 19.5 }
        ],
        assigned: false
      }
    ])
    expect(JSON.stringify(answer)).not.toContain('do not keep')
  })

  test('is read once it is assigned, in its own unit, for as many tanks as it serves, also after a restart', async () => {
    const water = { topic: 'garage/pond', pointer: '/water/temp', quantity: 'temperature', unit: 'degF' }
    const room = { topic: 'garage/pond', pointer: '/room', quantity: 'room-temperature', probe: 'r1' }
    const made = await ask('POST', '/api/probes', { ...water, tank: 'kitchen', probe: 'g1' })
    expect(made).toMatchObject({ status: 201, body: { ...water, tank: 'kitchen', probe: 'g1' } })
    for (const tank of ['kitchen', 'den'])
      expect((await ask('POST', '/api/probes', { ...room, tank })).status).toBe(201)
    await publish('garage/pond', pond)
    await until(async () => (await now('den')).readings['room-temperature'] !== undefined, {
      withinMs: 5000,
      what: 'the room in the present of the den'
    })
    // 75.2 degF is 24 degrees Celsius by definition of the scale.
    expect((await now()).readings.temperature?.value).toBeCloseTo(24, 9)
    expect((await now()).readings).toMatchObject({
      temperature: { unit: 'Cel', probe: 'g1' },
      'room-temperature': { value: 19.5, probe: 'r1' }
    })

    await board.endAsync(true)
    await house.kill('SIGKILL')
    house = await startHouse({ dataDir })
    ask = await house.login()
    board = await mqtt.connectAsync(`mqtt://127.0.0.1:${house.mqttPort}`, { clientId: 'garage' })
    await publish('garage/pond', '{"water":{"temp":77},"room":20}')
    await until(async () => (await now()).readings.temperature?.value === 25, {
      withinMs: 5000,
      what: 'the reading after the restart'
    })
  })

  test('that says something else is refused with its reason, once, and without its words', async () => {
    for (let round = 0; round < 3; round++) await publish('garage/pond', `{"error":"private ${round}"}`)
    const { refusals } = (await ask('GET', '/api/refused')).body as {
      refusals: { topic: string; reason: string; count: number; payloadStart: string }[]
    }
    const ours = refusals.filter(({ topic }) => topic === 'garage/pond')
    expect(ours).toHaveLength(1)
    expect(ours[0]).toMatchObject({ payloadStart: '' })
    expect(ours[0]?.count).toBeGreaterThanOrEqual(3)
  })

  test('is no longer read once the assignment is taken away, and what it told stays', async () => {
    for (const { id } of (await heard()).assignments)
      expect((await ask('DELETE', `/api/probes/assignments/${id}`)).status).toBe(204)
    await publish('garage/pond', '{"water":{"temp":50},"room":1}')
    await publish('shoal/kitchen/p1/ph', '7')
    await until(async () => (await now()).readings.ph !== undefined, {
      withinMs: 5000,
      what: 'the pH after it'
    })
    expect((await now()).readings.temperature?.value).toBe(25)
    expect((await heard()).assignments).toEqual([])
  })

  const wrong: readonly [string, object, number, RegExp][] = [
    ['a topic of our own', { topic: 'shoal/kitchen/t1/temperature' }, 422, /by themselves/],
    ['a wildcard', { topic: 'garage/#' }, 422, /without/],
    ['a topic of the broker', { topic: '$SYS/load' }, 422, /broker/],
    ['a pointer that is none', { pointer: 'water' }, 422, /pointer/],
    ['a unit that does not fit', { unit: 'kW' }, 422, /does not fit temperature/],
    ['a tank that is not there', { tank: 'attic' }, 422, /no tank/],
    ['a quantity that we do not keep', { quantity: 'turbidity' }, 422, /quantity/]
  ]
  for (const [name, change, status, words] of wrong)
    test(`cannot be assigned: ${name}`, async () => {
      const body = { topic: 'x/y', quantity: 'temperature', tank: 'kitchen', probe: 'x1', ...change }
      const answer = await ask('POST', '/api/probes', body)
      expect(answer.status).toBe(status)
      expect(JSON.stringify(answer.body)).toMatch(words)
    })

  test('is assigned once: a second source for the same probe and quantity would mix two waters', async () => {
    const body = { topic: 'x/y', quantity: 'temperature', tank: 'kitchen', probe: 'x1' }
    expect((await ask('POST', '/api/probes', body)).status).toBe(201)
    expect((await ask('POST', '/api/probes', { ...body, topic: 'x/z' })).status).toBe(409)
  })
})

describe('readings over HTTP', () => {
  let basic = ''
  const post = async (
    body: string,
    given: Readonly<{ tank?: string; login?: string; type?: string }> = {}
  ): Promise<{ status: number; body: Record<string, unknown>; ask: string | null }> => {
    const response = await fetch(
      `${house.url}/api/readings${given.tank === undefined ? '' : `?tank=${given.tank}`}`,
      {
        method: 'POST',
        headers: {
          'content-type': given.type ?? 'application/senml+json',
          ...((given.login ?? basic) === '' ? {} : { authorization: `Basic ${btoa(given.login ?? basic)}` })
        },
        body
      }
    )
    return {
      status: response.status,
      body: (await response.json()) as Record<string, unknown>,
      ask: response.headers.get('www-authenticate')
    }
  }
  beforeAll(async () => {
    const made = await ask('POST', '/api/boards', { name: 'http-board', tankIds: ['kitchen'] })
    basic = `http-board:${(made.body as { password: string }).password}`
  })

  test('are on disk when they are answered, and a repeat changes nothing', async () => {
    const pack = JSON.stringify([
      { bn: 'h1/', bt: Math.floor(Date.now() / 1000) - 60, n: 'oxygen', u: 'mg/L', v: 7.9 },
      { n: 'conductivity', u: 'S/m', v: 0.04 },
      { n: 'level', u: 'm', v: 0.31 },
      { n: 'heater-power', u: 'W', v: 100 }
    ])
    expect(await post(pack)).toMatchObject({ status: 201, body: { stored: 4, same: 0, refused: [] } })
    expect(await post(pack)).toMatchObject({ status: 201, body: { stored: 0, same: 4 } })
    await house.kill('SIGKILL')
    house = await startHouse({ dataDir })
    ask = await house.login()
    expect((await now()).readings).toMatchObject({
      oxygen: { value: 7.9, unit: 'mg/L', probe: 'h1' },
      conductivity: { value: 400, unit: 'uS/cm' },
      level: { value: 31, unit: 'cm' },
      'heater-power': { value: 100, unit: 'W' }
    })
  })

  test('need the name and password of a board, which a session does not replace', async () => {
    const pack = '[{"n":"h1/temperature","v":24}]'
    for (const login of ['', 'http-board:wrong', 'nobody:x', ':', 'http-board']) {
      const answer = await post(pack, { login })
      expect(answer.status, login).toBe(401)
      expect(answer.ask, login).toMatch(/^Basic realm=/)
    }
    expect((await ask('POST', '/api/readings', [])).status).toBe(401)
  })

  test('are taken for the board’s own tanks only, named in the query or before the probe', async () => {
    expect((await post('[{"n":"h1/temperature","v":24}]', { tank: 'den' })).status).toBe(403)
    expect((await post('[{"n":"den/h1/temperature","v":24}]')).status).toBe(403)
    expect((await post('[{"n":"kitchen/h1/temperature","v":24}]')).status).toBe(201)
    const both = await ask('POST', '/api/boards', { name: 'two', tankIds: ['kitchen', 'den'] })
    const login = `two:${(both.body as { password: string }).password}`
    expect((await post('[{"n":"h2/temperature","v":24}]', { login })).status).toBe(422)
    expect((await post('[{"n":"h2/temperature","v":24}]', { login, tank: 'den' })).status).toBe(201)
    expect(
      await post('[{"bn":"den/","n":"h2/ph","v":7},{"bn":"","n":"kitchen/h2/ph","v":7}]', { login })
    ).toMatchObject({
      status: 201,
      body: { stored: 2 }
    })
    await until(async () => (await now('den')).readings.ph?.probe === 'h2', {
      withinMs: 5000,
      what: 'the den'
    })
  })

  test('that are partly wrong are taken in part, with the reason of the rest', async () => {
    expect(await post('[{"n":"h1/temperature","v":24.25},{"n":"h1/turbidity","v":3}]')).toMatchObject({
      status: 201,
      body: { stored: 1, refused: [{ code: 'INTAKE_UNKNOWN_QUANTITY' }] }
    })
  })

  const refusedPacks: readonly [string, string, string | undefined, number][] = [
    ['broken JSON', '[{', undefined, 422],
    ['no pack', '{"n":"h1/temperature","v":24}', undefined, 422],
    ['nothing that we keep', '[{"n":"h1/turbidity","v":3}]', undefined, 422],
    ['another type', 'temperature=24', 'application/x-www-form-urlencoded', 415],
    ['too much', `[{"n":"h1/temperature","v":24,"x":"${'x'.repeat(70_000)}"}]`, undefined, 413]
  ]
  for (const [name, pack, type, status] of refusedPacks)
    test(`are refused with problem details: ${name}`, async () => {
      const answer = await post(pack, type === undefined ? {} : { type })
      expect(answer.status).toBe(status)
      expect(answer.body).toMatchObject({ status, code: expect.any(String), detail: expect.any(String) })
    })
})
