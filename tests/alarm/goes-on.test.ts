import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reAlarmAfterMs } from '../../services/alarm/definitions.ts'
import { type AlarmInput, emptySlot, goesOn, hushedBy, stepAlarm } from '../../services/alarm/life.ts'
import type { Priority } from '../../services/tank/alarm-names.ts'
import type { AlarmSlot } from '../../services/tank/alarm-record.ts'
import { good } from './judged-input.ts'

const minuteMs = 60_000
const rules = { onDelayMs: 0, offDelayMs: 30 * minuteMs, latches: false }
const cut = hushedBy('power-cut')
const hands = 'hands-in-the-tank'
const noHeat = { because: 'no-heat' }
const bad = (hush: string | null = null, priority: Priority = 'high'): AlarmInput => ({
  on: 'judged',
  finding: noHeat,
  priority,
  hush
})
const unsure = (hush: string | null = null): AlarmInput => ({
  on: 'judged',
  finding: 'cannot-tell',
  priority: 'high',
  hush
})

type Said = readonly [minute: number, input: AlarmInput]
/** What was heard: each change with its minute and reason. The slot is written down and read again at each step. */
function heard(story: readonly Said[]): readonly string[] {
  let slot: AlarmSlot = emptySlot({ tankId: 'kitchen', kind: 'heater-not-heating', subject: 'kitchen' })
  let ids = 0
  return story.flatMap(([minute, input]) => {
    const stepped = stepAlarm(slot, input, { nowMs: minute * minuteMs, rules, newId: () => `a${++ids}` })
    slot = JSON.parse(JSON.stringify(stepped.next)) as AlarmSlot
    return stepped.steps.map(({ to, because }) => `${minute} ${slot.activationId} ${to} ${because}`)
  })
}

describe('an alarm that nobody has seen, under a power cut that comes and goes', () => {
  test('rings once; when the power is back it goes on', () => {
    const flaps = [30, 60, 90].flatMap((from): readonly Said[] => [
      [from, unsure(cut)],
      [from + 10, unsure(cut)],
      [from + 15, bad()]
    ])
    expect(heard([[0, bad()], ...flaps])).toEqual([
      '0 a1 unacknowledged no-heat',
      ...[30, 60, 90].flatMap((from) => [
        `${from} a1 suppressed ${cut}`,
        `${from + 15} a1 unacknowledged ${goesOn}`
      ])
    ])
  })
  test('rings anew once the time of its urgency is over: four hours for a high one', () => {
    expect(
      heard([
        [0, bad()],
        [30, bad(cut)],
        [239, bad()],
        [240, bad(cut)],
        [241, bad()]
      ]).slice(1)
    ).toEqual([
      `30 a1 suppressed ${cut}`,
      `239 a1 unacknowledged ${goesOn}`,
      `240 a1 suppressed ${cut}`,
      '241 a1 unacknowledged quiet-time-over'
    ])
  })
  test('rings anew where it came back worse', () => {
    expect(
      heard([
        [0, bad()],
        [30, bad(cut)],
        [40, bad(null, 'critical')]
      ]).at(-1)
    ).toBe('40 a1 unacknowledged quiet-time-over')
  })
  test('that really ended meanwhile is over, and another trouble is another alarm', () => {
    expect(
      heard([
        [0, bad()],
        [30, bad(cut)],
        [40, good(cut)],
        [70, good(cut)],
        [90, bad()]
      ])
    ).toEqual([
      '0 a1 unacknowledged no-heat',
      `30 a1 suppressed ${cut}`,
      '70 a1 normal cleared',
      '90 a2 unacknowledged no-heat'
    ])
  })
  test('that never rang before the cut rings when it is over', () => {
    expect(
      heard([
        [0, bad(cut)],
        [30, bad()]
      ]).at(-1)
    ).toBe('30 a1 unacknowledged quiet-time-over')
    const another: readonly Said[] = [
      [0, bad()],
      [1, { on: 'acknowledge', by: 'keeper' }],
      [2, good()],
      [32, good()]
    ]
    expect(heard([...another, [40, bad(cut)], [50, bad()]]).at(-1)).toBe(
      '50 a2 unacknowledged quiet-time-over'
    )
  })
})

test('after work in the tank it rings anew: whoever had hands in it may think that all is mended', () => {
  expect(
    heard([
      [0, bad()],
      [10, bad(hands)],
      [40, bad()]
    ]).at(-1)
  ).toBe('40 a1 unacknowledged quiet-time-over')
  expect(
    heard([
      [0, bad()],
      [10, bad(cut)],
      [20, bad(hands)],
      [30, bad(cut)],
      [40, bad()]
    ]).at(-1)
  ).toBe('40 a1 unacknowledged quiet-time-over')
})

describe('a shelf that ends while something explains the alarm', () => {
  const shelve: AlarmInput = { on: 'shelve', by: 'keeper', untilMs: 10 * minuteMs }
  test('rings only once nothing explains it any more', () => {
    expect(
      heard([
        [0, bad()],
        [6, shelve],
        [11, bad(hands)],
        [20, bad(hands)],
        [21, bad()]
      ])
    ).toEqual(['0 a1 unacknowledged no-heat', '6 a1 shelved shelve', '21 a1 unacknowledged shelf-time-over'])
  })
  test('is over where the condition has gone meanwhile', () => {
    expect(
      heard([
        [0, bad()],
        [6, shelve],
        [11, good(hands)],
        [40, good(hands)],
        [41, good(hands)]
      ])
    ).toEqual(['0 a1 unacknowledged no-heat', '6 a1 shelved shelve', '41 a1 normal shelf-time-over'])
  })
})

test('whatever happened before: what asks for somebody has rung, as urgent as it is, since anybody or any work quietened it', () => {
  const said = fc.oneof(
    {
      weight: 12,
      arbitrary: fc.record({
        on: fc.constant('judged' as const),
        finding: fc.constantFrom(noHeat, noHeat, null, 'cannot-tell' as const),
        priority: fc.constantFrom<Priority>('high', 'high', 'critical', 'medium'),
        hush: fc.constantFrom(null, null, cut, hands)
      })
    },
    {
      weight: 2,
      arbitrary: fc.record({
        on: fc.constantFrom('acknowledge' as const, 'unshelve' as const, 'reset' as const),
        by: fc.constant('keeper')
      })
    },
    {
      weight: 1,
      arbitrary: fc.record({
        on: fc.constant('shelve' as const),
        by: fc.constant('keeper'),
        untilMs: fc.integer({ min: 0, max: 3000 * minuteMs })
      })
    }
  )
  const story = fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), said), { maxLength: 60 })
  let goings = 0
  fc.assert(
    fc.property(story, fc.boolean(), (happenings, latches) => {
      let slot: AlarmSlot = emptySlot({ tankId: 'kitchen', kind: 'heater-not-heating', subject: 'kitchen' })
      let nowMs = 0
      let ids = 0
      let rang: Readonly<{ atMs: number; urgency: Priority; id: string | null }> | null = null
      for (const [minutes, input] of happenings) {
        nowMs += minutes * minuteMs
        const given = { nowMs, rules: { ...rules, latches }, newId: () => `a${++ids}` }
        const { next, steps } = stepAlarm(slot, input, given)
        slot = next
        const byHand = steps.some(({ to, by }) => by !== undefined && to !== 'unacknowledged')
        const byWork = input.on === 'judged' && input.hush === hands && slot.state === 'suppressed'
        if (byHand || byWork) rang = null
        for (const { from, to, because } of steps) {
          if (to !== 'unacknowledged') continue
          const isRing = because !== goesOn && (from !== to || because === 'escalated')
          if (isRing) rang = { atMs: nowMs, urgency: slot.priority, id: slot.activationId }
          if (because !== goesOn) continue
          goings += 1
          expect(nowMs - (rang?.atMs ?? 0)).toBeLessThan(reAlarmAfterMs[slot.priority] ?? 0)
        }
        if (slot.state === 'unacknowledged')
          expect(rang).toMatchObject({ urgency: slot.priority, id: slot.activationId })
      }
    }),
    { numRuns: 5000, seed: 5 }
  )
  expect(goings).toBeGreaterThan(100)
})
