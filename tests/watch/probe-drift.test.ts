import fc from 'fast-check'
import { expect, test } from 'vitest'
import { carryBelief, errorOf, freshBelief, learnFrom, monthMs } from '../../services/watch/drift-filter.ts'
import { driftLimits, judgeProbeDrift } from '../../services/watch/probe-drift.ts'
import { type ProbeReference, probeReferences } from '../../services/watch/probe-reference.ts'
import { makeChance } from './seeded.ts'

const dayMs = 86_400_000
const { ph } = driftLimits
const nowMs = 60 * dayMs

const reference = (day: number, error: number): ProbeReference => ({
  atMs: day * dayMs,
  probe: 7 + error,
  reference: 7,
  referenceSd: 0.1
})
const judge = (references: readonly ProbeReference[], atMs = nowMs) =>
  judgeProbeDrift({ references, sinceMs: 0, nowMs: atMs }, ph)

type Wildness = 'none' | 'a tenth of them five times as far off' | 'one of them 0.8 off'

/** A probe with known truth, compared on random days of two months with something that has an sd of 0.1. */
function makeCase(seed: number, count: number, wildness: Wildness, drift: 'from the prior' | number) {
  const chance = makeChance(seed)
  const perMonth = drift === 'from the prior' ? ph.perMonthPriorSd * chance.normal() : drift
  const offset = ph.offsetPriorSd * chance.normal()
  const wildOne = Math.floor(chance.even() * count)
  const references = Array.from({ length: count }, (_, at) => {
    const day = 60 * chance.even()
    const isWild = wildness === 'a tenth of them five times as far off' && chance.even() < 0.1
    const wild = wildness === 'one of them 0.8 off' && at === wildOne ? 0.8 : 0
    const noise = 0.1 * chance.normal() * (isWild ? 5 : 1) + wild
    return reference(day, offset + (perMonth * day * dayMs) / monthMs + noise)
  })
  return { perMonth, offsetNow: offset + (perMonth * nowMs) / monthMs, references }
}

function shareHeld(count: number, wildness: Wildness, drift: 'from the prior' | number) {
  let slope = 0
  let offset = 0
  for (let seed = 1; seed <= 1000; seed += 1) {
    const truth = makeCase(seed * 7919 + count, count, wildness, drift)
    const found = judge(truth.references)
    if (truth.perMonth >= found.perMonthLow && truth.perMonth <= found.perMonthHigh) slope += 1
    if (Math.abs(found.offsetNow - truth.offsetNow) <= 1.96 * found.offsetSd) offset += 1
  }
  return { slope: slope / 1000, offset: offset / 1000 }
}

const banks: readonly (readonly [number, Wildness, 'from the prior' | number])[] = [
  [1, 'none', 'from the prior'],
  [2, 'none', 'from the prior'],
  [4, 'none', 'from the prior'],
  [5, 'none', 'from the prior'],
  [4, 'a tenth of them five times as far off', 'from the prior'],
  [5, 'one of them 0.8 off', 'from the prior'],
  [6, 'none', 0.15],
  [8, 'none', 0.15],
  [12, 'none', 0.15],
  [20, 'none', -0.05],
  [6, 'one of them 0.8 off', 0.15],
  [8, 'one of them 0.8 off', 0.15],
  [12, 'one of them 0.8 off', 0.15],
  [8, 'a tenth of them five times as far off', 0.15],
  [12, 'a tenth of them five times as far off', 0.15]
]

test.each(banks)(
  'with %i references, %s wild, the true drift lies in the 95 percent interval as often as stated',
  (count, wildness, drift) => {
    const held = shareHeld(count, wildness, drift)
    expect(held.slope).toBeGreaterThanOrEqual(0.92)
    expect(held.slope).toBeLessThanOrEqual(0.98)
    expect(held.offset).toBeGreaterThanOrEqual(0.9)
  }
)

test('the filter says what the whole sum of squares says, whatever the order of its steps', () => {
  const pairs = fc.array(fc.tuple(fc.integer({ min: 0, max: 90 }), fc.integer({ min: -40, max: 40 })), {
    minLength: 1,
    maxLength: 6
  })
  fc.assert(
    fc.property(pairs, (given) => {
      const references = given
        .toSorted((a, b) => a[0] - b[0])
        .map(([day, error]) => reference(day, error / 100))
      const found = references.reduce(learnFrom, freshBelief(0, ph))
      // Bayes' rule for a straight line with normal priors, solved at once: posterior precision and its inverse.
      let [a, b, c, u, v] = [1 / ph.offsetPriorSd ** 2, 0, 1 / ph.perMonthPriorSd ** 2, 0, 0]
      for (const each of references) {
        const months = each.atMs / monthMs
        const weight = 1 / each.referenceSd ** 2
        a += weight
        b += weight * months
        c += weight * months ** 2
        u += weight * errorOf(each)
        v += weight * months * errorOf(each)
      }
      const determinant = a * c - b * b
      const slope = (a * v - b * u) / determinant
      const atZero = (c * u - b * v) / determinant
      const now = carryBelief(found, nowMs + 30 * dayMs)
      expect(now.perMonth).toBeCloseTo(slope, 8)
      expect(now.offset).toBeCloseTo(atZero + (slope * now.atMs) / monthMs, 8)
      expect(now.perMonthVar).toBeCloseTo(a / determinant, 8)
    })
  )
})

test('without a reference nothing is claimed but the prior', () => {
  const found = judge([])
  expect(found).toMatchObject({
    verdict: 'no-reference',
    method: 'prior',
    offsetNow: 0,
    passesLimitAtMs: null
  })
  expect(found.offsetSd).toBeCloseTo(Math.hypot(0.1, (0.1 * nowMs) / monthMs), 9)
})

test('below six references it says that they are not enough, from six on the robust line speaks', () => {
  const references = [0, 10, 20, 30, 40, 50].map((day) => reference(day, 0.002 * day))
  expect(judge(references.slice(0, 5))).toMatchObject({
    verdict: 'not-enough',
    method: 'kalman',
    references: 5
  })
  expect(judge(references)).toMatchObject({ verdict: 'drifting', method: 'theil-sen', references: 6 })
})

test('the day on which the limit is passed is where the line meets it', () => {
  const references = [0, 10, 20, 30, 40, 50].map((day) => reference(day, 0.002 * day))
  const found = judge(references)
  expect(found.offsetNow).toBeCloseTo(0.12, 9)
  expect(found.perMonth).toBeCloseTo(0.002 * 30.436875, 9)
  expect((found.passesLimitAtMs ?? 0) / dayMs).toBeCloseTo(150, 6)
})

test('a probe that reads high and comes back meets the other limit, and one that only scatters meets none', () => {
  const references = [0, 10, 20, 30, 40, 50].map((day) => reference(day, 0.2 - 0.001 * day))
  expect((judge(references).passesLimitAtMs ?? 0) / dayMs).toBeCloseTo(500, 6)
  const scattered = [0.1, -0.1, 0.1, -0.1, 0.1, -0.1].map((error, at) => reference(at * 10, error))
  expect(judge(scattered)).toMatchObject({ verdict: 'steady', passesLimitAtMs: null })
})

test('one wild reference asks to be repeated and moves nothing', () => {
  const before = judge([reference(5, 0.02), reference(10, 0.03)])
  const after = judge([reference(5, 0.02), reference(10, 0.03), reference(59, 1.2)])
  expect(after).toMatchObject({ verdict: 'repeat-reference', wildAtMs: 59 * dayMs, references: 2 })
  expect(after.offsetNow).toBe(before.offsetNow)
  expect(after.perMonth).toBe(before.perMonth)
})

test('a wild one that the next reference contradicts is forgotten', () => {
  const found = judge([reference(5, 0.02), reference(10, 1.2), reference(11, 0.03)])
  expect(found).toMatchObject({ verdict: 'not-enough', wildAtMs: null, jumpedAtMs: null, references: 2 })
  expect(Math.abs(found.offsetNow)).toBeLessThan(0.1)
})

test('two wild references in a row that agree mean that the probe jumped, and it is past its limit', () => {
  const found = judge(
    [reference(5, 0.02), reference(10, 0.03), reference(40, 1.2), reference(41, 1.15)],
    42 * dayMs
  )
  expect(found).toMatchObject({ verdict: 'past-limit', jumpedAtMs: 40 * dayMs, passesLimitAtMs: 42 * dayMs })
  expect(found.offsetNow).toBeCloseTo(1.175, 1)
})

test('past the limit counts only when it is more than twice its own uncertainty', () => {
  const wide = (error: number, day: number) => ({ ...reference(day, error), referenceSd: 0.4 })
  const errors = [0.9, -0.1, 0.8, 0.0, 0.6, 0.1]
  const unsure = judge(errors.map((error, at) => wide(error, at * 10)))
  expect(Math.abs(unsure.offsetNow)).toBeLessThan(2 * unsure.offsetSd)
  expect(unsure.verdict).not.toBe('past-limit')
  const sure = judge([0, 10, 20, 30, 40, 50].map((day) => reference(day, 0.01 * day)))
  expect(sure.verdict).toBe('past-limit')
})

test('a new calibration starts anew: older references do not count', () => {
  const references = [1, 2, 3].map((day) => reference(day, 0.2))
  expect(judgeProbeDrift({ references, sinceMs: 5 * dayMs, nowMs }, ph).verdict).toBe('no-reference')
})

test('a healthy probe is called drifted in at most one of a hundred years of fortnightly tests', () => {
  let past = 0
  for (let seed = 1; seed <= 100; seed += 1) {
    const chance = makeChance(seed)
    const references = Array.from({ length: 26 }, (_, at) => reference(at * 14, 0.1 * chance.normal()))
    for (let at = 1; at <= 26; at += 1) {
      const found = judge(references.slice(0, at), at * 14 * dayMs)
      if (found.verdict === 'past-limit') {
        past += 1
        break
      }
    }
  }
  expect(past).toBeLessThanOrEqual(1)
})

test('a test by hand becomes a reference with what the probe said around it, or not at all', () => {
  const minuteMs = 60_000
  const readings = [-20, -10, -5, 0, 5, 10, 20].map((minute) => ({
    atMs: dayMs + minute * minuteMs,
    value: 7.1 + minute / 1000
  }))
  const limits = { withinMs: 10 * minuteMs, mostRange: 0.1, referenceSd: 0.1 }
  const pair = (result: Parameters<typeof probeReferences>[0]['results'][number], swing = 0) =>
    probeReferences(
      {
        results: [result],
        readings: readings.map((point, at) => ({ ...point, value: point.value + (at % 2) * swing }))
      },
      limits
    )
  expect(pair({ atMs: dayMs, value: 7 })).toEqual([
    { atMs: dayMs, probe: 7.1, reference: 7, referenceSd: 0.1 }
  ])
  expect(pair({ atMs: dayMs, value: 7, atMost: true })).toEqual([])
  expect(pair({ atMs: dayMs, value: 7, atLeast: true })).toEqual([])
  expect(pair({ atMs: 2 * dayMs, value: 7 })).toEqual([])
  expect(pair({ atMs: dayMs, value: 7 }, 0.3)).toEqual([])
})
