import { describe, expect, test } from 'vitest'
import { nowViewOf } from '../../services/hub/now.ts'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import { kitTest } from '../tank/a-profile.ts'
import { fishTank, minuteMs, startMs } from './a-tank-week.ts'

const at = (minutes: number): number => startMs + minutes * minuteMs

/** Lives of two probes in one tank, minute by minute, and what its wall says at the end. */
function said(
  given: Readonly<{
    minutes: number
    tests?: readonly ManualTest[]
    tempC: Readonly<Record<string, (minute: number) => number | null>>
  }>
) {
  let ids = 0
  const { tests = [], minutes } = given
  const watch = makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
  for (let minute = 0; minute <= minutes; minute += 1) {
    watch.setEntries({ tests: tests.filter(({ takenAtMs }) => takenAtMs <= at(minute)) })
    for (const [probe, value] of Object.entries(given.tempC)) {
      const tempC = value(minute)
      if (tempC === null) continue
      const atMs = at(minute)
      const common = { tankId: 'kitchen', probe, quantity: 'temperature', clock: 'device', flag: 1 } as const
      watch.feed([{ ...common, value: tempC + 0.02 * Math.sin(minute / 7), atMs, arrivedAtMs: atMs }])
    }
    watch.tick(at(minute))
  }
  const { sentence, verdict } = nowViewOf({
    tankId: 'kitchen',
    watch,
    tests,
    virtual: false,
    nowMs: at(minutes)
  })
  return { sentence, because: verdict.because }
}

const steady = () => 24.5
const until = (end: number) => (minute: number) => (minute < end ? 24.5 : null)

describe('a probe that is not heard', () => {
  test('leaves the water unseen where it was the only one', () => {
    expect(said({ minutes: 70, tempC: { t1: until(60) } }).sentence).toMatch(
      /^Probe "t1" has not been heard for \d+ minutes\. The watch cannot see the water temperature now\.$/
    )
  })
  test('does not where another one of the same tank still tells it', () => {
    expect(said({ minutes: 70, tempC: { t1: until(60), t2: steady } }).sentence).toMatch(
      /^Probe "t1" has not been heard for \d+ minutes\. Another probe still tells the water temperature\.$/
    )
  })
})

describe('an alarm that is over', () => {
  test('is told as what was, without the numbers of water that is no more', () => {
    const tests = [kitTest(at(5), { ammonia: 0, nitrite: 4 }), kitTest(at(20), { ammonia: 0, nitrite: 0 })]
    expect(said({ minutes: 80, tests, tempC: { t1: steady } })).toEqual({
      sentence: 'It is over, but look: nitrite was above what fish bear.',
      because: 'nitrite-unsafe-was'
    })
  })
  test('a probe that is heard again was not heard', () => {
    const gap = (minute: number) => (minute > 30 && minute < 60 ? null : 24.5)
    expect(said({ minutes: 90, tempC: { t1: gap } }).sentence).toBe(
      'It is over, but look: probe "t1" was not heard for a while.'
    )
  })
})
