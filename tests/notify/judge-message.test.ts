import { describe, expect, it } from 'vitest'
import { goesOn } from '../../services/alarm/life.ts'
import {
  type Circuit,
  closedCircuit,
  isResting,
  longestPauseMs,
  pauseMs,
  stepCircuit
} from '../../services/notify/backoff.ts'
import type { Contact, Way } from '../../services/notify/contact.ts'
import {
  judgeMessage,
  type MessageScene,
  type SendOutcome,
  standingOf,
  stepMessage,
  wayDeadlineMs
} from '../../services/notify/judge-message.ts'
import { judgeUndelivered, reachWithinMs } from '../../services/notify/undelivered.ts'
import type { AlarmState } from '../../services/tank/alarm-names.ts'
import { noProgress, type OutboxMessage } from '../../services/tank/message.ts'
import { alarmView, anna, email, minuteMs, post } from './people.ts'

const noonMs = Date.parse('2026-11-25T11:00:00Z')
const second: Way = post('http://127.0.0.1:9/')
const twoWays: Contact = { ...anna, ways: [email, second] }
const message = (given: Partial<OutboxMessage> = {}): OutboxMessage => ({
  id: 'a1.1.anna',
  sort: 'alarm',
  contactId: 'anna',
  tankId: 'kitchen',
  activationId: 'a1',
  madeAtMs: noonMs,
  earliestMs: noonMs,
  dueAtMs: noonMs,
  priority: 'critical',
  because: 'told-at-once',
  state: 'waiting',
  progress: noProgress,
  fates: [],
  ...given
})
const standing = (state: AlarmState) => ({ state, priority: 'critical' as const, finding: null })
const judge = (one: OutboxMessage, given: Partial<MessageScene> = {}) =>
  judgeMessage(one, {
    nowMs: noonMs,
    contact: twoWays,
    standing: standing('unacknowledged'),
    hasNewer: false,
    circuits: new Map(),
    busy: new Set(),
    ...given
  })

describe('a message that is due', () => {
  it.each([
    ['unacknowledged', 0, 'send'],
    ['latched-unacknowledged', 0, 'send'],
    ['returned-unacknowledged', 0, 'send'],
    ['returned-unacknowledged', 15 * minuteMs, 'over'],
    ['acknowledged', 0, 'alarm-acknowledged'],
    ['latched-acknowledged', 0, 'alarm-latched-acknowledged'],
    ['normal', 0, 'alarm-normal'],
    ['shelved', 0, 'alarm-shelved'],
    ['suppressed', 0, 'alarm-suppressed'],
    ['out-of-service', 0, 'alarm-out-of-service']
  ] as const)('about an alarm that is %s, due %i ms after the ring: %s', (state, afterMs, expected) => {
    const verdict = judge(message({ earliestMs: noonMs + afterMs }), { standing: standing(state) })
    expect(verdict.do === 'end' ? verdict.because : verdict.do).toBe(expected)
  })

  it('about an alarm that waits for its cause waits with it, and is said to', () => {
    const hushed = (because: string) => {
      const into = { atMs: noonMs, from: 'unacknowledged' as const, to: 'suppressed' as const, because }
      return standingOf(alarmView({ state: 'suppressed', changes: [into] }))
    }
    expect(hushed('hands-in-the-tank')?.waitsForCause).toBe(false)
    const waits = { ...standing('suppressed'), ...hushed('hushed-by-power-cut') }
    expect(judge(message(), { standing: waits })).toEqual({
      do: 'wait',
      untilMs: noonMs + minuteMs,
      because: 'alarm-suppressed',
      isHeld: true
    })
    expect(
      judge(message(), { standing: { ...waits, state: 'unacknowledged', waitsForCause: false } }).do
    ).toBe('send')
  })

  it('is not needed where a newer one says the same, or the person was taken away', () => {
    expect(judge(message(), { hasNewer: true })).toMatchObject({ do: 'end', because: 'newer-message' })
    expect(judge(message(), { contact: null })).toMatchObject({ do: 'end', because: 'contact-removed' })
  })

  it('is given up after three days, for it is no news any more', () => {
    expect(judge(message({ madeAtMs: noonMs - 73 * 60 * minuteMs }))).toMatchObject({ because: 'too-old' })
  })

  it('is not given up while a cause hushes its alarm, and is news for three days from when that goes on', () => {
    const old = message({ priority: 'low', madeAtMs: noonMs - 300 * 60 * minuteMs })
    const waits = { ...standing('suppressed'), waitsForCause: true }
    expect(judge(old, { standing: waits })).toMatchObject({ do: 'wait', because: 'alarm-suppressed' })
    const back = (hoursAgo: number) => {
      const on = { from: 'suppressed' as const, to: 'unacknowledged' as const, because: goesOn }
      return standingOf(alarmView({ changes: [{ ...on, atMs: noonMs - hoursAgo * 60 * minuteMs }] }))
    }
    expect(judge(old, { standing: back(0) }).do).toBe('send')
    expect(judge(old, { standing: back(72) }).do).toBe('send')
    expect(judge(old, { standing: back(73) })).toMatchObject({ do: 'end', because: 'too-old' })
  })

  it('that was tried into the night waits for the morning, unless it is critical', () => {
    const nowMs = Date.parse('2026-11-25T22:00:00Z')
    const calm = { state: 'unacknowledged' as const, priority: 'high' as const, finding: null }
    expect(judge(message({ priority: 'high' }), { nowMs, standing: calm })).toEqual({
      do: 'wait',
      untilMs: Date.parse('2026-11-26T06:00:00Z'),
      because: 'quiet-hours',
      isHeld: true
    })
    expect(judge(message(), { nowMs }).do).toBe('send')
    expect(
      judge(message({ priority: 'high' }), {
        nowMs,
        standing: { ...calm, finding: { because: 'x', hoursLeft: 2 } }
      }).do
    ).toBe('send')
  })
})

describe('the way', () => {
  const wayOf = (verdict: ReturnType<typeof judge>) => (verdict.do === 'send' ? verdict.way.id : verdict.do)
  const onMail = (sinceMs: number) => ({
    ...noProgress,
    tries: 3,
    wayId: 'mail',
    waySinceMs: sinceMs,
    wayTries: 3
  })

  it('stays the same until its deadline, and then is the next', () => {
    const deadline = wayDeadlineMs.critical
    expect(wayOf(judge(message()))).toBe('mail')
    expect(wayOf(judge(message({ progress: onMail(noonMs - deadline + 1) })))).toBe('mail')
    expect(wayOf(judge(message({ progress: onMail(noonMs - deadline) })))).toBe('post')
    const onPost = { ...onMail(noonMs - deadline), wayId: 'post' }
    expect(wayOf(judge(message({ progress: onPost })))).toBe('mail')
  })

  it('that rests is passed over; where all rest, the message waits for the first', () => {
    const resting = (ms: number): Circuit => ({ failures: 5, openUntilMs: noonMs + ms })
    expect(wayOf(judge(message(), { circuits: new Map([['mail', resting(9000)]]) }))).toBe('post')
    const circuits = new Map([
      ['mail', resting(9000)],
      ['post', resting(5000)]
    ])
    expect(judge(message(), { circuits })).toMatchObject({ do: 'wait', untilMs: noonMs + 5000 })
  })

  it('on trial after its rest takes one try at a time', () => {
    const circuits = new Map([['mail', { failures: 3, openUntilMs: noonMs - 1 }]])
    expect(wayOf(judge(message(), { circuits }))).toBe('mail')
    expect(wayOf(judge(message(), { circuits, busy: new Set(['mail']) }))).toBe('post')
  })

  it('that refused for good is not tried again, and without any the message is given up', () => {
    expect(wayOf(judge(message({ progress: { ...noProgress, spent: ['mail'] } })))).toBe('post')
    expect(judge(message({ progress: { ...noProgress, spent: ['mail', 'post'] } }))).toMatchObject({
      do: 'end',
      state: 'given-up',
      because: 'every-way-refused'
    })
  })
})

describe('a try', () => {
  const tried = { way: email, sinceMs: noonMs - 1000, wayTries: 0 }
  const stepped = (
    result: SendOutcome,
    given: { roll?: number; waysLeft?: number; wayTries?: number } = {}
  ) =>
    stepMessage(message(), result, {
      nowMs: noonMs,
      roll: given.roll ?? 0.5,
      tried: { ...tried, wayTries: given.wayTries ?? 0 },
      waysLeft: given.waysLeft ?? 1
    })

  it('that arrived ends the message', () => {
    expect(stepped({ outcome: 'delivered', because: 'http-200' })).toMatchObject({
      state: 'delivered',
      progress: { tries: 1, firstTryMs: noonMs }
    })
  })
  it('that failed comes again later, but never after the turn of the next way', () => {
    const failed: SendOutcome = { outcome: 'failed', because: 'econnrefused' }
    expect(stepped(failed).dueAtMs).toBe(noonMs + 5000)
    expect(stepped(failed, { wayTries: 9 }).dueAtMs).toBe(noonMs + longestPauseMs)
    expect(stepped(failed, { wayTries: 9, waysLeft: 2 }).dueAtMs).toBe(noonMs - 1000 + wayDeadlineMs.critical)
  })
  it('that was asked to wait waits so long, and no longer than a quarter of an hour', () => {
    const asked = (retryAfterMs: number) =>
      stepped({ outcome: 'failed', because: 'http-429', retryAfterMs }).dueAtMs
    expect(asked(60_000)).toBe(noonMs + 60_000)
    expect(asked(86_400_000)).toBe(noonMs + longestPauseMs)
  })
  it('that was refused gives the next way its turn at once, or ends it', () => {
    const refused: SendOutcome = { outcome: 'refused', because: 'smtp-550' }
    expect(stepped(refused, { waysLeft: 2 })).toMatchObject({
      state: 'waiting',
      dueAtMs: noonMs,
      progress: { spent: ['mail'], wayId: null }
    })
    expect(stepped(refused).state).toBe('given-up')
  })
})

describe('waiting between tries', () => {
  it('doubles, is capped, and is spread by half to either side', () => {
    const plain = Array.from({ length: 12 }, (_, tries) => pauseMs({ tries: tries + 1, roll: 0.5 }) / 1000)
    expect(plain).toEqual([5, 10, 20, 40, 80, 160, 320, 640, 900, 900, 900, 900])
    expect([0, 0.999].map((roll) => Math.round(pauseMs({ tries: 3, roll }) / 1000))).toEqual([10, 30])
    expect(pauseMs({ tries: 500, roll: 1 })).toBe(longestPauseMs)
  })
  it('of a way begins after three failures, grows, and ends with one success', () => {
    let circuit = closedCircuit
    const rests: (number | null)[] = []
    for (let failure = 0; failure < 10; failure++) {
      circuit = stepCircuit(circuit, 'failed', noonMs)
      rests.push(circuit.openUntilMs === null ? null : (circuit.openUntilMs - noonMs) / 1000)
    }
    expect(rests).toEqual([null, null, 30, 60, 120, 240, 480, 900, 900, 900])
    expect(isResting(circuit, noonMs)).toBe(true)
    expect(stepCircuit(circuit, 'delivered', noonMs)).toEqual(closedCircuit)
    expect(stepCircuit(circuit, 'refused', noonMs)).toEqual(closedCircuit)
  })
})

describe('an alarm that reached nobody', () => {
  const waitingSince = (ms: number, given: Partial<OutboxMessage> = {}) =>
    message({ progress: { ...noProgress, tries: 2, firstTryMs: noonMs - ms }, ...given })
  const found = (messages: readonly OutboxMessage[], state: AlarmState | null = 'unacknowledged') =>
    judgeUndelivered(messages, { nowMs: noonMs, state })?.because ?? null
  const late = reachWithinMs.critical

  it.each([
    ['not yet late', [waitingSince(late - 1)], 'unacknowledged', null],
    ['late', [waitingSince(late)], 'unacknowledged', 'nobody-reached'],
    ['refused by every way', [message({ state: 'given-up' })], 'unacknowledged', 'nobody-reached'],
    ['held for the morning', [message({ dueAtMs: noonMs + 1 })], 'unacknowledged', null],
    [
      'late with one, arrived at another',
      [waitingSince(late), message({ id: 'b', state: 'delivered' })],
      'unacknowledged',
      null
    ],
    ['late, and acknowledged on the wall', [waitingSince(late)], 'acknowledged', null],
    ['late, and over by itself', [waitingSince(late)], 'returned-unacknowledged', 'nobody-reached'],
    ['late, of a tank that is gone', [waitingSince(late)], null, null],
    [
      'arrived the first time, late the second',
      [message({ madeAtMs: noonMs - 9e6, state: 'delivered' }), waitingSince(late)],
      'unacknowledged',
      'nobody-reached'
    ],
    ['no message at all', [], 'unacknowledged', null]
  ] as const)('%s', (_name, messages, state, expected) => {
    expect(found(messages, state)).toBe(expected)
  })
})
