import fc from 'fast-check'
import { median as referenceMedian } from 'simple-statistics'
import { describe, expect, test } from 'vitest'
import { ewmaByTime } from '../../services/series/ewma.ts'
import { typicalIntervalMs } from '../../services/series/interval.ts'
import { median } from '../../services/series/median.ts'
import { theilSenSlopePerHour } from '../../services/series/slope.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

describe('median', () => {
  test('agrees with the reference library (simple-statistics) for any list', () => {
    const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 60 })
    fc.assert(
      fc.property(values, (list) => {
        expect(median(list)).toBeCloseTo(referenceMedian(list), 9)
      })
    )
  })
  test('has no answer for nothing', () => expect(median([])).toBeNull())
})

describe('mean that weighs the recent past', () => {
  test('follows a step like a first-order lag: 63.2 % of it after one time constant', () => {
    // Source: step response 1 - exp(-t/tau) of a first-order lag, any control textbook.
    const points = Array.from({ length: 17 }, (_, minute) => ({
      atMs: minute * minuteMs,
      value: minute <= 1 ? 0 : 1
    }))
    const after15 = ewmaByTime(points, { tauMs: 15 * minuteMs })
    expect(after15).toBeCloseTo(1 - Math.exp(-1), 10)
  })
  test('does not depend on how densely a constant is sampled', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 10_000 }), { minLength: 1, maxLength: 50 }), (gaps) => {
        let atMs = 0
        const points = gaps.map((gap) => {
          atMs += gap
          return { atMs, value: 24.5 }
        })
        expect(ewmaByTime(points, { tauMs: 900_000 })).toBeCloseTo(24.5, 10)
      })
    )
  })
})

describe('slope', () => {
  test('of a straight line is that line, per hour', () => {
    const points = [0, 1, 2, 5, 9].map((hour) => ({ atMs: hour * hourMs, value: 20 + 0.4 * hour }))
    expect(theilSenSlopePerHour(points)).toBeCloseTo(0.4, 10)
  })
  test('is not bent by up to 29 % of wild points (breakdown point of Theil and Sen)', () => {
    const points = Array.from({ length: 12 }, (_, at) => ({
      atMs: at * hourMs,
      value: at % 4 === 1 ? 999 : 20 + 0.4 * at
    }))
    expect(theilSenSlopePerHour(points)).toBeCloseTo(0.4, 10)
  })
  test('needs three points', () => expect(theilSenSlopePerHour([])).toBeNull())
})

describe('how often a probe speaks', () => {
  const cases = [
    { name: 'steadily once a minute', times: [0, 60, 120, 180], every: 60 },
    { name: 'with one long gap', times: [0, 60, 120, 9000, 9060], every: 60 },
    { name: 'only twice: not known yet', times: [0, 60], every: null }
  ]
  test.each(cases)('$name', ({ times, every }) => {
    const found = typicalIntervalMs(times.map((seconds) => seconds * 1000))
    expect(found).toBe(every === null ? null : every * 1000)
  })
})
