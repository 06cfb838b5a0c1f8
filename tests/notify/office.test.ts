import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Contact } from '../../services/notify/contact.ts'
import { noProgress } from '../../services/tank/message.ts'
import { makeFolder } from '../store/kitchen.ts'
import { type HttpPeer, openHttpPeer, withStatus } from './http-peer.ts'
import { anna, minuteMs, nightMs, post } from './people.ts'
import { openSteppedOffice, type SteppedOffice } from './stepped-office.ts'

const noonMs = Date.parse('2026-11-25T11:00:00Z')
let folder: ReturnType<typeof makeFolder>
let peers: HttpPeer[]
let stepped: SteppedOffice
beforeEach(async () => {
  folder = makeFolder()
  peers = [await openHttpPeer(), await openHttpPeer()]
})
afterEach(async () => {
  await stepped.close()
  for (const peer of peers) await peer.close()
  folder.remove()
})
const peer = (index: number): HttpPeer => {
  const found = peers[index]
  if (found === undefined) throw new Error(`no peer ${index}`)
  return found
}
const heard = (index: number) => peer(index).heard.map(({ body }) => body.toString())
const ben = (given: Partial<Contact> = {}): Contact => ({
  ...anna,
  id: 'ben',
  name: 'Ben',
  afterMinutes: 10,
  ways: [{ ...post(peer(1).url), id: 'ben-post' }],
  ...given
})
async function open(startMs: number, contacts: readonly Contact[]): Promise<void> {
  stepped = await openSteppedOffice({ dataDir: folder.dataDir, startMs })
  await stepped.book.putContacts(contacts)
}
const fates = async () =>
  (await stepped.record.messages({})).map(({ contactId, state, fates: list }) => [
    contactId,
    state,
    list.map(({ what, because }) => `${what} ${because}`)
  ])

describe('an alarm of a real tank', () => {
  it('reaches the first person, and the next only where nobody acknowledges', async () => {
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }, ben()])
    await stepped.live(8, 17)
    expect(heard(0)).toEqual([expect.stringMatching(/^Kitchen: water 17\.0 °C/)])
    expect(heard(1)).toEqual([])
    await stepped.live(10, 17)
    expect([heard(0).length, heard(1).length]).toEqual([1, 1])
  })

  it('reaches the next person, too, where the clock ran days ahead and is set back meanwhile', async () => {
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }, ben()])
    await stepped.live(8, 17)
    await stepped.later(-2 * 24 * 60)
    await stepped.live(12, 17)
    expect([heard(0).length, heard(1).length]).toEqual([1, 1])
  })

  it('leaves the next person alone once it was acknowledged', async () => {
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }, ben()])
    await stepped.live(8, 17)
    const [alarm] = await stepped.alarms()
    expect(await stepped.act(alarm?.id ?? '', 'acknowledge')).toBe('done')
    await stepped.live(12, 17)
    expect(heard(1)).toEqual([])
    expect(await fates()).toEqual([
      ['ben', 'not-needed', ['not-needed alarm-acknowledged']],
      ['anna', 'delivered', ['delivered http-200']]
    ])
  })

  it('that is mild waits for the morning, and comes then', async () => {
    await open(nightMs, [{ ...anna, quietHours: { from: '22:00', to: '02:50' }, ways: [post(peer(0).url)] }])
    await stepped.live(39, 21.8)
    // Two alarms are mild enough to wait; an overdue test is milder than anybody is told of.
    const alarms = await stepped.alarms()
    expect(alarms.map(({ kind, priority }) => `${kind} ${priority}`)).toEqual([
      'heater-not-heating high',
      'water-cold medium',
      'test-overdue low'
    ])
    expect(heard(0)).toEqual([])
    await stepped.live(2, 21.8)
    expect(heard(0).map((text) => /since 02:\d\d/.exec(text)?.[0])).toEqual(['since 02:31', 'since 02:42'])
  })

  it('goes by the second way where the first fails, with every try on record', async () => {
    await peer(0).close()
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url), { ...post(peer(1).url), id: 'second' }] }])
    await stepped.live(12, 17)
    expect(heard(1).length).toBe(1)
    const [[, state, list] = []] = await fates()
    expect(state).toBe('delivered')
    expect(list).toEqual(['failed econnrefused', 'delivered http-200'])
    expect(stepped.office.contacts()[0]?.ways.map(({ trouble }) => trouble?.because ?? null)).toEqual([
      'econnrefused',
      null
    ])
  })

  it('that reaches nobody raises an alarm about that on the wall, and sends no message about it', async () => {
    peer(0).answer(withStatus(503))
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }])
    await stepped.live(14, 17)
    const undelivered = (await stepped.alarms()).find(({ kind }) => kind === 'alert-undelivered')
    expect(undelivered).toMatchObject({
      state: 'unacknowledged',
      priority: 'high',
      finding: { because: 'nobody-reached', facts: { alarm: 'water-cold-danger', lastFault: 'http-503' } }
    })
    expect((await stepped.office.overview()).somebodyIsTold).toBe(false)
    peer(0).answer(withStatus(200))
    await stepped.live(25, 17)
    expect((await stepped.record.messages({})).every(({ state }) => state === 'delivered')).toBe(true)
    expect((await stepped.alarms()).find(({ kind }) => kind === 'alert-undelivered')?.state).toBe(
      'returned-unacknowledged'
    )
  })

  it('fetches the next person at once where the first cannot be reached for good', async () => {
    peer(0).answer(withStatus(404))
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }, ben({ afterMinutes: 120 })])
    await stepped.live(9, 17)
    expect(heard(1).length).toBe(1)
  })

  it('takes a push subscription off the list that the browser has withdrawn', async () => {
    const { createECDH } = await import('node:crypto')
    const browser = createECDH('prime256v1')
    browser.generateKeys()
    peer(0).answer(withStatus(410))
    await open(noonMs, [
      {
        ...anna,
        ways: [
          {
            id: 'push',
            kind: 'push',
            subscription: {
              endpoint: `${peer(0).url}/x`,
              keys: { p256dh: browser.getPublicKey('base64url'), auth: 'BTBZMqHH6r4Tts7J_aSIgg' }
            },
            allowPrivate: true
          },
          { ...post(peer(1).url), id: 'second' }
        ]
      }
    ])
    await stepped.live(9, 17)
    expect(stepped.book.contacts()[0]?.ways.map(({ id }) => id)).toEqual(['second'])
    expect(heard(1).length).toBe(1)
  })
})

describe('a link in a message', () => {
  const tokenIn = (text: string | undefined) => /\/a\/([\w-]{43})/.exec(text ?? '')?.[1] ?? ''
  beforeEach(async () => {
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url, { template: '{{link}}' })] }])
    await stepped.live(8, 17)
  })

  it('changes nothing when it is opened, however often', async () => {
    const token = tokenIn(heard(0)[0])
    for (let scan = 0; scan < 3; scan++)
      expect(await stepped.office.openLink(token)).toMatchObject({ state: 'open', tankName: 'Kitchen' })
    expect((await stepped.alarms())[0]?.state).toBe('unacknowledged')
  })

  it('acknowledges once, and the record says who, when and from where', async () => {
    const token = tokenIn(heard(0)[0])
    const [first, second] = await Promise.all(
      ['192.168.1.7', '192.168.1.8'].map((from) => stepped.office.useLink(token, from))
    )
    expect([first, second].sort()).toEqual(['done', 'used'])
    const [alarm] = await stepped.alarms()
    expect(alarm).toMatchObject({ state: 'acknowledged', acknowledgedAtMs: stepped.nowMs() })
    expect(alarm?.acknowledgedBy).toMatch(/^Anna \(link in a message, from 192\.168\.1\.[78]\)$/)
    expect(await stepped.office.openLink(token)).toMatchObject({ state: 'used' })
  })

  it('is worth nothing after a day, and a guessed one never was', async () => {
    const token = tokenIn(heard(0)[0])
    await stepped.later(1441)
    expect(await stepped.office.useLink(token, 'x')).toBe('expired')
    expect(await stepped.office.useLink('A'.repeat(43), 'x')).toBe('unknown')
    expect(await stepped.office.openLink('../../etc')).toBeNull()
    expect((await stepped.alarms()).some(({ acknowledgedBy }) => acknowledgedBy !== null)).toBe(false)
  }, 60_000)

  it('of an alarm that somebody has seen to says so, and does nothing more', async () => {
    const token = tokenIn(heard(0)[0])
    const [alarm] = await stepped.alarms()
    await stepped.act(alarm?.id ?? '', 'acknowledge')
    expect(await stepped.office.openLink(token)).toMatchObject({ state: 'seen' })
    expect(await stepped.office.useLink(token, 'x')).toBe('wrong-state')
    expect((await stepped.alarms())[0]?.acknowledgedBy).toBe('Anna, wall')
  })

  it('stands in the record as a hash alone', async () => {
    const token = tokenIn(heard(0)[0])
    expect(JSON.stringify(await stepped.record.messages({}))).not.toContain(token)
    expect(await stepped.record.ackLink(token)).toBeNull()
  })
})

describe('a trial', () => {
  it('answers how each way went, and is on record like any message', async () => {
    await peer(1).close()
    await open(nightMs, [
      {
        ...anna,
        ways: [
          post(peer(0).url),
          { ...post(peer(1).url), id: 'dead' },
          { id: 'mail', kind: 'email', address: 'a@b.c' }
        ]
      }
    ])
    const results = await stepped.office.testNow()
    expect(results.map(({ wayId, outcome, because }) => [wayId, outcome, because])).toEqual([
      ['post', 'delivered', 'http-200'],
      ['dead', 'failed', 'econnrefused'],
      ['mail', 'refused', 'no-mail-server']
    ])
    expect(results.every(({ words }) => words.length > 20)).toBe(true)
    await stepped.live(3, null)
    expect(heard(0).length).toBe(1)
    expect((await stepped.office.messages({ limit: 10 })).map(({ state }) => state).sort()).toEqual([
      'delivered',
      'given-up',
      'given-up'
    ])
    const { drill } = await stepped.office.overview()
    expect(drill).toMatchObject({ lastAtMs: nightMs, dueAtMs: nightMs + 30 * 24 * 60 * minuteMs })
  })
})

describe('old messages', () => {
  it('are dropped once a day, after more than a year', async () => {
    await open(noonMs, [{ ...anna, ways: [post(peer(0).url)] }])
    const dayMs = 24 * 60 * minuteMs
    const old = (id: string, daysAgo: number) => ({
      ...{ id, sort: 'test' as const, contactId: 'anna', tankId: null, activationId: null },
      ...{ madeAtMs: noonMs - daysAgo * dayMs, earliestMs: 0, dueAtMs: noonMs + 9 * dayMs },
      ...{ priority: 'low' as const, because: 'asked-for' }
    })
    await stepped.record.addMessages([old('older', 401), old('old', 399)])
    await stepped.record.noteMessages(
      ['older', 'old'].map((id) => ({ id, state: 'delivered' as const, dueAtMs: 0, progress: noProgress }))
    )
    await stepped.live(1, null)
    expect((await stepped.record.messages({})).map(({ id }) => id)).toEqual(['old'])
    await stepped.live(2, null)
    expect((await stepped.record.messages({})).length).toBe(1)
  })
})

describe('what happened to a message', () => {
  it('stands in a sentence, whatever it was', async () => {
    await peer(1).close()
    await open(noonMs, [
      {
        ...anna,
        ways: [
          { ...post(peer(1).url), label: 'the kitchen telephone' },
          { ...post(peer(0).url), id: 'b' }
        ]
      },
      ben({ ways: [post(peer(0).url)] })
    ])
    await stepped.live(10, 17)
    const [alarm] = await stepped.alarms()
    await stepped.act(alarm?.id ?? '', 'acknowledge')
    await stepped.live(12, 17)
    const told = await stepped.office.messages({ limit: 10 })
    expect(told.map(({ about, state }) => [about, state])).toEqual([
      ['water cold danger', 'not-needed'],
      ['water cold danger', 'delivered']
    ])
    expect(told.flatMap(({ fates: list }) => list.map(({ way, words }) => [way, words]))).toEqual([
      [null, 'Somebody had seen the alarm first.'],
      ['the kitchen telephone', 'Nothing listens at that address. Is the server running? Is the port right?'],
      [peer(0).url, 'The server took it. Look whether it arrives where you would see it.']
    ])
    expect(stepped.office.contacts()[0]?.ways[0]?.trouble?.words).toMatch(/^Nothing listens/)
  })
})
