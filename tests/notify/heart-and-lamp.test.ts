import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { makeHeart } from '../../services/notify/heartbeat.ts'
import { lampPayload, makeLamp } from '../../services/notify/lamp.ts'
import { type HttpPeer, openHttpPeer, withStatus } from './http-peer.ts'
import { alarmView, minuteMs, nightMs } from './people.ts'

describe('the heartbeat', () => {
  let peer: HttpPeer
  let nowMs: number
  let well: boolean
  beforeEach(async () => {
    peer = await openHttpPeer()
    nowMs = nightMs
    well = true
  })
  afterEach(() => peer.close())
  const heart = (everyMinutes: number, allowPrivate = true) =>
    makeHeart({
      heartbeat: () => ({ url: peer.url, everyMinutes, allowPrivate }),
      isWell: async () => well,
      clock: () => nowMs
    })
  async function live(own: ReturnType<typeof heart>, minutes: number): Promise<void> {
    for (let minute = 0; minute < minutes; minute++) {
      await own.beat()
      nowMs += minuteMs
    }
  }

  it('beats as often as it was asked to', async () => {
    await live(heart(5), 31)
    expect(peer.heard.length).toBe(7)
    expect(peer.heard.every(({ method }) => method === 'POST')).toBe(true)
  })
  it('is silent while the watch is not well, and beats again after', async () => {
    const own = heart(1)
    well = false
    await live(own, 10)
    expect(peer.heard).toEqual([])
    expect(own.state().lastFault).toMatch(/silent on purpose/)
    well = true
    await live(own, 3)
    expect(peer.heard.length).toBe(3)
    expect(own.state()).toMatchObject({ lastFault: null, lastOkMs: nightMs + 12 * minuteMs })
  })
  it('tells why it did not get through', async () => {
    const own = heart(1)
    peer.answer(withStatus(404))
    await live(own, 1)
    expect(own.state()).toMatchObject({
      lastOkMs: null,
      lastFault: expect.stringContaining('nothing at that address')
    })
  })
  it('does not go into the home network unless allowed', async () => {
    await live(heart(1, false), 2)
    expect(peer.heard).toEqual([])
  })
  it('goes on when the clock of the machine is set back by a day', async () => {
    const own = heart(5)
    await live(own, 1)
    nowMs -= 86_400_000
    await live(own, 6)
    expect(peer.heard.length).toBe(3)
  })
})

describe('the word for a lamp on a board', () => {
  const one = (given: Parameters<typeof alarmView>[0]) => alarmView(given)
  it.each([
    ['none', [], null],
    [
      'none that asks for anybody',
      [one({ state: 'shelved' }), one({ state: 'suppressed' }), one({ state: 'normal' })],
      null
    ],
    ['the most urgent', [one({ id: 'm', priority: 'medium' }), one({ id: 'c', priority: 'critical' })], 'c'],
    [
      'of two as urgent the one nobody has seen',
      [one({ id: 's', state: 'acknowledged' }), one({ id: 'u' })],
      'u'
    ],
    ['of two alike the older', [one({ id: 'new', raisedAtMs: 2 }), one({ id: 'old', raisedAtMs: 1 })], 'old'],
    ['one that is over and was never seen', [one({ id: 'r', state: 'returned-unacknowledged' })], 'r']
  ])('names %s', (_name, alarms, expected) => {
    const word = JSON.parse(lampPayload(alarms))
    expect(expected === null ? word : word.id).toEqual(expected === null ? { alarm: null } : expected)
  })

  it('is said when it changes, and again where saying it failed', async () => {
    const said: string[] = []
    let alarms = [alarmView()]
    let works = false
    const lamp = makeLamp({
      tankIds: async () => ['kitchen'],
      alarms: () => alarms,
      publish: async (tankId, payload) => {
        if (!works) throw new Error('the broker is away')
        said.push(`${tankId} ${JSON.parse(payload).alarm}`)
      }
    })
    await expect(lamp.sayAll()).rejects.toThrow('away')
    works = true
    await lamp.sayAll()
    await lamp.sayAll()
    alarms = []
    await lamp.say('kitchen')
    expect(said).toEqual(['kitchen water-cold', 'kitchen null'])
  })

  it('of a tank that was taken away is taken back', async () => {
    const said: string[] = []
    let ids = ['kitchen', 'old']
    const lamp = makeLamp({
      tankIds: async () => ids,
      alarms: (tankId) => (ids.includes(tankId) ? [alarmView()] : null),
      publish: async (tankId, payload) => void said.push(`${tankId} ${JSON.parse(payload).alarm}`)
    })
    await lamp.sayAll()
    ids = ['kitchen']
    await lamp.sayAll()
    expect(said).toEqual(['kitchen water-cold', 'old water-cold', 'old null'])
  })
})
