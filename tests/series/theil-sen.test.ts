import fc from 'fast-check'
import { quantileSorted, median as referenceMedian, standardDeviation } from 'simple-statistics'
import { expect, test } from 'vitest'
import { flagAttenuated } from '../../services/series/attenuated-signal.ts'
import { median } from '../../services/series/median.ts'
import { quantileOfSorted } from '../../services/series/quantile.ts'
import { robustLine } from '../../services/series/theil-sen.ts'

const dayMs = 86_400_000
const finite = fc.double({ min: -1e6, max: 1e6, noNaN: true })

// P. K. Sen 1968, JASA 63:1379-1389, his example of seven points. Slope 4 and intercept 6 as recomputed by two
// public libraries (deming for R, scipy), ends 26/7 and 35/8 as published.
const sen = [
  [1, 9],
  [2, 15],
  [3, 19],
  [4, 20],
  [10, 45],
  [12, 55],
  [18, 78]
].map(([day = 0, value = 0]) => ({ atMs: day * dayMs, value }))

test('the slope and the line of the example of Sen 1968 are the published ones', () => {
  const line = robustLine(sen, { shareFrac: 0.95 })
  expect(line?.perDay).toBeCloseTo(4, 12)
  expect(line?.at(0)).toBeCloseTo(6, 12)
})

test('the published ends belong to the share that the count of orders gives them', () => {
  // They are the 4th and the 18th of 21 slopes. Of the 5040 orders of seven things 1 + 5 + ... = 76 have at most
  // three pairs out of order (Mahonian numbers 1, 6, 20, 49), so the two hold the slope in 1 - 2 x 76/5040.
  const line = robustLine(sen, { shareFrac: 1 - (2 * 76) / 5040 })
  expect(line?.perDayLow).toBeCloseTo(26 / 7, 9)
  expect(line?.perDayHigh).toBeCloseTo(35 / 8, 9)
})

test('fewer than five different moments carry no line, however often each was measured', () => {
  expect(robustLine(sen.slice(0, 4), { shareFrac: 0.95 })).toBeNull()
  expect(robustLine([...sen.slice(0, 4), ...sen.slice(0, 4)], { shareFrac: 0.95 })).toBeNull()
  expect(robustLine(sen.slice(0, 5), { shareFrac: 0.95 })).not.toBeNull()
})

test('a straight line is found exactly, with one wild point too, and the interval encloses the slope', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 7, maxLength: 20 }),
      fc.integer({ min: -50, max: 50 }),
      fc.nat(),
      (days, slope, wild) => {
        const points = days.map((day, at) => ({
          atMs: day * dayMs,
          value: 3 + slope * day + (at === wild % days.length ? 1e4 : 0)
        }))
        const line = robustLine(points, { shareFrac: 0.95 })
        expect(line?.perDay).toBeCloseTo(slope, 6)
        expect(line?.perDayLow).toBeLessThanOrEqual((line?.perDay ?? Number.NaN) + 1e-9)
        expect(line?.perDayHigh).toBeGreaterThanOrEqual((line?.perDay ?? Number.NaN) - 1e-9)
      }
    )
  )
})

test('the median is that of simple-statistics', () => {
  fc.assert(
    fc.property(fc.array(finite, { minLength: 1, maxLength: 60 }), (values) => {
      expect(median(values)).toBeCloseTo(referenceMedian(values), 6)
    })
  )
  expect(median([])).toBeNull()
})

// simple-statistics takes the next whole rank where ours lies between two; where the rank is whole they must agree.
test('a quantile that falls on a value is that value, as in simple-statistics', () => {
  fc.assert(
    fc.property(fc.array(finite, { minLength: 2, maxLength: 40 }), fc.nat(), (values, pick) => {
      const sorted = values.toSorted((a, b) => a - b)
      const rank = pick % sorted.length
      const own = quantileOfSorted(sorted, rank / (sorted.length - 1))
      expect(own).toBeCloseTo(sorted[rank] ?? Number.NaN, 5)
      const odd = sorted.length % 2 === 1
      if (odd) expect(quantileOfSorted(sorted, 0.5)).toBeCloseTo(quantileSorted(sorted, 0.5), 9)
    })
  )
})

test('the spread of the attenuated-signal test is the population standard deviation of simple-statistics', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 2, maxLength: 30 }), (values) => {
      const series = { timesMs: values.map((_, at) => at * 1000), values }
      const spread = standardDeviation(values)
      const flagAt = (suspect: number) =>
        flagAttenuated(series, { suspect, windowMs: 1e9, measure: 'sd', fewest: 1 }).at(-1)
      expect(flagAt(spread + 1e-6)).toBe(3)
      if (spread > 1e-6) expect(flagAt(spread - 1e-6)).toBe(1)
    })
  )
})
