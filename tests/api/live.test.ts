import { mkdtempSync, rmSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { makeLiveStream } from '../../services/api/live-stream.ts'
import type { LiveEvent } from '../../services/contract/series-view.ts'
import { type House, openTestHouse, profile } from './open-house.ts'
import { openStream, type Stream, until } from './stream-reader.ts'

const listen = { host: '127.0.0.1', port: 0 }
let house: House
let cookie: string
const streams: Stream[] = []
beforeEach(async () => {
  house = await openTestHouse({ listen })
  cookie = await house.enter('keeper')
  for (const id of ['kitchen', 'other'])
    await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id } })
})
afterEach(async () => {
  for (const stream of streams.splice(0)) stream.close()
  await house.close()
})

const portOf = (own: House): number => {
  const address = own.api.app.server.address()
  if (typeof address !== 'object' || address === null) throw new Error('nobody listens')
  return address.port
}
async function joinStream(
  ask: { own?: House; cookie?: string; path?: string; headers?: Record<string, string> } = {}
): Promise<Stream> {
  const stream = await openStream({
    port: portOf(ask.own ?? house),
    path: ask.path ?? '/api/live',
    headers: { cookie: ask.cookie ?? cookie, ...ask.headers }
  })
  streams.push(stream)
  return stream
}
const reading = (value: number, tankId = 'kitchen'): LiveEvent => ({
  event: 'reading',
  data: {
    tankId,
    quantity: 'temperature',
    probe: 't1',
    value,
    unit: 'Cel',
    atMs: house.clock.nowMs,
    flag: 1,
    trendPerHour: null
  }
})
const values = (stream: Stream) =>
  stream.heard.filter((one) => one.event === 'reading').map((one) => one.data.value)
const hasStatus = (stream: Stream) => () => stream.heard.some((one) => one.event === 'status')

describe('the live stream', () => {
  it('opens with the state of the house and carries what happens with growing ids', async () => {
    const stream = await joinStream()
    expect(stream.headers['content-type']).toContain('text/event-stream')
    expect(stream.headers['x-content-type-options']).toBe('nosniff')
    expect(stream.headers['cache-control']).toContain('no-store')
    await until(hasStatus(stream))
    expect(stream.heard[0]?.data).toMatchObject({
      healthy: true,
      tanks: ['kitchen', 'other'],
      waitingTanks: []
    })
    for (const value of [24.1, 24.2, 24.3]) house.api.live.tell(reading(value))
    await until(() => values(stream).length === 3)
    const ids = stream.heard.flatMap((one) => (one.id === null ? [] : [one.id]))
    expect(ids).toEqual([...ids].sort((one, other) => one - other))
    expect(new Set(ids).size).toBe(3)
    expect(Number.isSafeInteger(ids.at(-1))).toBe(true)
  })

  it('tells of a test after the record holds it', async () => {
    const stream = await joinStream()
    await until(hasStatus(stream))
    const body = { takenAt: house.clock.nowMs, results: [{ quantity: 'ph', value: 7, unit: 'pH' }] }
    const made = await house.ask('POST', '/api/tanks/kitchen/tests', { cookie, body })
    await until(() => stream.heard.some((one) => one.event === 'test'))
    const { id } = made.body as { id: string }
    expect(stream.heard.find((one) => one.event === 'test')?.data).toEqual({
      tankId: 'kitchen',
      id,
      change: 'added'
    })
  })

  it('of one tank leaves out the others', async () => {
    const stream = await joinStream({ path: '/api/live?tank=kitchen' })
    house.api.live.tell(reading(1, 'other'))
    house.api.live.tell(reading(2))
    await until(() => values(stream).length === 1)
    expect(values(stream)).toEqual([2])
    expect((await joinStream({ path: '/api/live?tank=nowhere' })).status).toBe(404)
  })

  it('resumes after the last id, exactly once each', async () => {
    const first = await joinStream()
    house.api.live.tell(reading(1))
    house.api.live.tell(reading(2))
    await until(() => values(first).length === 2)
    first.close()
    house.api.live.tell(reading(3))
    house.api.live.tell(reading(4))
    const again = await joinStream({ headers: { 'last-event-id': String(first.lastId()) } })
    house.api.live.tell(reading(5))
    await until(() => values(again).includes(5))
    expect(values(again)).toEqual([3, 4, 5])
  })

  it('resumes for one who has heard nothing but the opening', async () => {
    const first = await joinStream()
    await until(hasStatus(first))
    first.close()
    house.api.live.tell(reading(1))
    const again = await joinStream({ path: `/api/live?lastEventId=${first.lastId()}` })
    await until(() => values(again).length === 1)
    expect(again.heard.some((one) => one.event === 'resync')).toBe(false)
  })

  it('says resync for an id that is too old or was never given', async () => {
    for (const id of ['1', '9007199254740991']) {
      const stream = await joinStream({ headers: { 'last-event-id': id } })
      await until(() => stream.heard.some((one) => one.event === 'resync'), `resync for ${id}`)
      const given = stream.lastId()
      stream.close()
      const again = await joinStream({ headers: { 'last-event-id': String(given) } })
      await until(hasStatus(again))
      expect(again.heard.some((one) => one.event === 'resync')).toBe(false)
    }
  })

  it('says resync rather than sending a mountain at once', async () => {
    const first = await joinStream()
    await until(hasStatus(first))
    first.close()
    for (let sent = 0; sent < 2500; sent += 1) house.api.live.tell(reading(sent))
    const again = await joinStream({ headers: { 'last-event-id': String(first.lastId()) } })
    await until(() => again.heard.some((one) => one.event === 'resync'))
    house.api.live.tell(reading(-1))
    await until(() => values(again).includes(-1))
    expect(values(again)).toEqual([-1])
  })

  it('says resync after a restart, and its ids are above all former ones even with the clock set back', async () => {
    const dataDir = mkdtempSync(join(tmpdir(), 'api-'))
    const before = await openTestHouse({ dataDir, listen })
    const session = await before.enter('keeper')
    const stream = await joinStream({ own: before, cookie: session })
    before.api.live.tell(reading(1))
    await until(() => values(stream).length === 1)
    const former = stream.lastId() ?? 0
    await before.close()
    const after = await openTestHouse({ dataDir, listen, startMs: before.clock.nowMs - 3_600_000 })
    const again = await joinStream({
      own: after,
      cookie: session,
      headers: { 'last-event-id': String(former) }
    })
    await until(() => again.heard.some((one) => one.event === 'resync'))
    expect(again.lastId()).toBeGreaterThan(former)
    await after.close()
    rmSync(dataDir, { recursive: true, force: true })
  })

  it('needs a session and closes at once when that is taken away', async () => {
    expect((await joinStream({ cookie: 'shoal-session=none' })).status).toBe(401)
    const wall = await house.enter('wall')
    const stream = await joinStream({ cookie: wall })
    await until(hasStatus(stream))
    const tablets = (await house.ask('GET', '/api/tablets', { cookie })).body as {
      id: string
      role: string
    }[]
    const id = tablets.find((one) => one.role === 'wall')?.id
    expect((await house.ask('DELETE', `/api/tablets/${id}`, { cookie })).status).toBe(204)
    await until(stream.isClosed)
  })

  it('does not hold up the closing of the house', async () => {
    const own = await openTestHouse({ listen })
    const stream = await joinStream({ own, cookie: await own.enter('keeper') })
    await until(hasStatus(stream))
    await own.close()
    await until(stream.isClosed)
  })

  it('drops a listener that does not read, and keeps the others', async () => {
    const slow = await joinStream()
    const quick = await joinStream()
    await until(hasStatus(slow))
    slow.pause()
    const long = 'x'.repeat(20_000)
    for (let sent = 0; sent < 1500; sent += 1) {
      house.api.live.tell({
        event: 'derived',
        data: { tankId: 'kitchen', quantity: 'nh3', value: sent, low: 0, high: 1, atMs: 0, reason: long }
      })
      if (sent % 10 === 0) await until(() => quick.heard.some((one) => one.data.value === sent))
    }
    await until(() => quick.heard.some((one) => one.data.value === 1499) || quick.isClosed())
    expect(quick.isClosed()).toBe(false)
    slow.resume()
    await until(slow.isClosed)
    expect(slow.heard.some((one) => one.data.value === 1499)).toBe(false)
  })
})

describe('the heartbeat', () => {
  it('shows the listeners that we live, and drops those whose session has ended', async () => {
    const alive = new Set(['kept'])
    const written: string[] = []
    const responseOf = (name: string) => ({
      write: (text: string) => written.push(`${name} ${text}`),
      on: () => undefined,
      destroy: () => written.push(`${name} destroyed`),
      end: () => undefined,
      writableLength: 0
    })
    const live = makeLiveStream({
      firstId: 100,
      status: async () => ({
        event: 'status',
        data: { version: '0', healthy: true, atMs: 0, tanks: [], waitingTanks: [] }
      }),
      isAlive: async (tokenHash) => alive.has(tokenHash)
    })
    for (const name of ['kept', 'ended'])
      live.join({
        response: responseOf(name) as never,
        tankId: null,
        sessionId: name,
        tokenHash: name,
        lastEventId: null
      })
    await live.beat()
    expect(written).toContain('kept : beat\n\n')
    expect(written).toContain('ended destroyed')
    expect(live.listeners()).toBe(1)
  })
})

describe('a request that is no HTTP', () => {
  const answerTo = (bytes: string): Promise<string> =>
    new Promise((resolve, reject) => {
      const socket = connect({ host: '127.0.0.1', port: portOf(house) }, () => socket.write(bytes))
      let text = ''
      socket.on('data', (piece) => {
        text += piece.toString()
      })
      socket.on('close', () => resolve(text))
      socket.on('error', reject)
      socket.setTimeout(5000, () => socket.destroy())
    })

  it('is answered with problem details and the door stays open', async () => {
    const answer = await answerTo('THIS IS NOT HTTP\r\n\r\n')
    expect(answer).toMatch(/^HTTP\/1\.1 400 /)
    expect(answer).toContain('application/problem+json')
    expect((await house.ask('GET', '/healthz')).status).toBe(200)
  })

  it('or names no host, is refused', async () => {
    const answer = await answerTo('GET /healthz HTTP/1.1\r\nHost:\r\nConnection: close\r\n\r\n')
    expect(answer).toMatch(/^HTTP\/1\.1 403 /)
    expect(answer).toContain('API_UNKNOWN_HOST')
  })
})
