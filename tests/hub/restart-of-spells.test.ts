import { describe, expect, test } from 'vitest'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

const at = (hours: number): number => startMs + hours * hourMs
const kitTest = (hours: number, results: ManualTest['results']): ManualTest => ({
  id: `t${hours}`,
  takenAtMs: at(hours),
  results
})

type Told = Readonly<{ hours: number; do: (watch: TankWatch) => void }>

/** A tank's life minute by minute, with what a person does in it; a restart goes on from what was saved alone. */
function live(
  given: Readonly<{
    hours: number
    tests: readonly ManualTest[]
    pH: (hours: number) => number | null
    noProbes?: boolean
    told?: readonly Told[]
    restartAtHour?: number
  }>
) {
  const saved = {
    readings: [] as ReadingToStore[],
    slots: new Map<string, AlarmSlot>(),
    changes: [] as AlarmChange[]
  }
  let ids = 0
  const knownAt = (nowMs: number) => given.tests.filter(({ takenAtMs }) => takenAtMs <= nowMs)
  const open = (lastMinuteMs?: number): TankWatch =>
    makeTankWatch({
      tankId: 'kitchen',
      profile: fishTank,
      tests: knownAt(lastMinuteMs ?? startMs),
      readings: saved.readings,
      slots: [...saved.slots.values()],
      changes: saved.changes,
      ...(lastMinuteMs === undefined ? {} : { lastMinuteMs }),
      newId: () => `a${++ids}`
    })
  let watch = open()
  for (let minute = 0; minute <= given.hours * 60; minute += 1) {
    const nowMs = startMs + minute * minuteMs
    const reading = (quantity: Quantity, value: number): ReadingToStore => ({
      tankId: 'kitchen',
      probe: quantity,
      quantity,
      value: value + (quantity === 'ph' ? 0.004 : 0.02) * Math.sin(minute / 7),
      atMs: nowMs,
      arrivedAtMs: nowMs,
      clock: 'device',
      flag: 1
    })
    const pH = given.pH(minute / 60)
    const temperature = given.noProbes === true ? [] : [reading('temperature', 25)]
    const batch = [...temperature, ...(pH === null ? [] : [reading('ph', pH)])]
    watch.feed(batch)
    saved.readings.push(...batch)
    if (given.tests.some(({ takenAtMs }) => takenAtMs === nowMs)) watch.setEntries({ tests: knownAt(nowMs) })
    for (const one of given.told ?? []) if (one.hours * 60 === minute) one.do(watch)
    const { changes, slots } = watch.tick(nowMs)
    saved.changes.push(...changes)
    for (const slot of slots) saved.slots.set(`${slot.kind} ${slot.subject}`, slot)
    if (given.restartAtHour !== undefined && minute === given.restartAtHour * 60) watch = open(nowMs)
  }
  return (kind: AlarmChange['kind']): readonly string[] =>
    saved.changes
      .filter((change) => change.kind === kind)
      .map(({ atMs, to, because }) => `${((atMs - startMs) / hourMs).toFixed(1)} ${to} ${because}`)
}

describe('ammonia above 0.02 for more than a day', () => {
  // 0.9 mg N/L at pH 7.7 and 25 °C: 2.77 % of it is toxic (Emerson et al. 1975), 0.030 mg NH3/L.
  const story = {
    hours: 30,
    tests: [kitTest(0, [{ quantity: 'ammonia', value: 0.9, unit: 'mg/L' }])],
    // The last pH serves for a day; then nobody can tell for an hour and a half, which is shorter than a spell waits.
    pH: (hours: number) => (hours > 1 && hours < 26.5 ? null : 7.7)
  } as const

  test('rings once, and a restart after a while in which nobody could tell changes nothing', () => {
    const undisturbed = live(story)('ammonia-unsafe')
    expect(undisturbed).toEqual([expect.stringMatching(/^24\.\d unacknowledged above-watch-tier-for-a-day$/)])
    expect(live({ ...story, restartAtHour: 28 })('ammonia-unsafe')).toEqual(undisturbed)
  })
})

test('a later test bends the line back to the one before it, and a restart rings no sooner for it', () => {
  // pH 7.7, 25 °C: 0.010 and 0.040 mg NH3/L. Nobody knew of the second before it was taken at hour 8.
  const story = {
    hours: 33,
    tests: [
      kitTest(0, [{ quantity: 'ammonia', value: 0.3, unit: 'mg/L' }]),
      kitTest(8, [{ quantity: 'ammonia', value: 1.2, unit: 'mg/L' }])
    ],
    pH: () => 7.7
  } as const
  const undisturbed = live(story)('ammonia-unsafe')
  expect(undisturbed).toEqual([expect.stringMatching(/^32\.\d unacknowledged above-watch-tier-for-a-day$/)])
  expect(live({ ...story, restartAtHour: 12 })('ammonia-unsafe')).toEqual(undisturbed)
})

test('a tank without any probe keeps its day of too much ammonia over a restart', () => {
  const typed: ManualTest['results'] = [
    { quantity: 'ammonia', value: 0.9, unit: 'mg/L' },
    { quantity: 'ph', value: 7.7, unit: 'pH' },
    { quantity: 'temperature', value: 25, unit: 'Cel' }
  ]
  const story = { hours: 27, tests: [kitTest(1, typed)], pH: () => null, noProbes: true } as const
  const undisturbed = live(story)('ammonia-unsafe')
  expect(undisturbed).toEqual([expect.stringMatching(/^25\.\d unacknowledged above-watch-tier-for-a-day$/)])
  expect(live({ ...story, restartAtHour: 20 })('ammonia-unsafe')).toEqual(undisturbed)
})

describe('an alarm whose only test is taken back while it is put aside', () => {
  const results = {
    'nitrite-unsafe': { quantity: 'nitrite', value: 3, unit: 'mg/L' },
    'alkalinity-low': { quantity: 'kh', value: 0.5, unit: 'dKH' }
  } as const
  test.each(['nitrite-unsafe', 'alkalinity-low'] as const)('%s: the shelf still ends', (kind) => {
    const path = live({
      hours: 4,
      tests: [kitTest(0, [results[kind]])],
      pH: () => 7.4,
      told: [
        {
          hours: 1,
          do: (watch) => {
            const id = watch
              .board()
              .slots()
              .find((slot) => slot.kind === kind)?.activationId
            watch.ask(id ?? '', { on: 'shelve', by: 'keeper', untilMs: at(2) }, at(1))
          }
        },
        { hours: 1.5, do: (watch) => watch.setEntries({ tests: [] }) }
      ]
    })(kind)
    expect(path.slice(1)).toEqual(['1.0 shelved shelve', '2.0 unacknowledged shelf-time-over'])
  })
})
