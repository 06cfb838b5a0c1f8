import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ammoniaCriteria } from '../../services/water/ammonia-criteria.ts'
import { unionisedAmmoniaInSalt } from '../../services/water/ammonia-in-salt.ts'
import { co2FromKh, phAtAir } from '../../services/water/carbonate.ts'
import { afterChanges } from '../../services/water/dilution.ts'
import { coolingTemp, tauHours } from '../../services/water/heat.ts'
import { mixWaters } from '../../services/water/mixing.ts'
import { nitrousAcid } from '../../services/water/nitrous-acid.ts'
import { oxygenSaturation } from '../../services/water/oxygen.ts'
import { plusMinus, type Span, spread, spreadEach } from '../../services/water/uncertainty.ts'
import { unionisedAmmonia, unionisedAmmoniaSpan } from '../../services/water/unionised-ammonia.ts'
import { type Answer, known, onward, refused } from '../../services/water/valid-range.ts'
import { must, refusedField } from '../tables/must.ts'

type Formula = (given: Record<string, number>) => Answer<number>
const g = (given: Record<string, number>, name: string): number => given[name] ?? Number.NaN
const share: Formula = (v) =>
  onward(unionisedAmmonia({ tanMgLAsN: g(v, 'tan'), tempC: g(v, 'tempC'), pH: g(v, 'pH') }), (a) => a.nh3MgL)

/** Every formula that errors are carried through, with the box of its middle values and its errors. */
const formulas: readonly (readonly [string, Formula, Record<string, readonly [number, number, number]>])[] = [
  ['toxic ammonia', share, { tan: [0, 8, 0.5], tempC: [2, 48, 2], pH: [5.6, 9.4, 0.5] }],
  [
    'toxic ammonia in salty water',
    (v) =>
      onward(
        unionisedAmmoniaInSalt({
          tanMgLAsN: g(v, 'tan'),
          tempC: g(v, 'tempC'),
          pH: g(v, 'pH'),
          salinityGkg: 5
        }),
        (a) => a.nh3MgL
      ),
    { tan: [1, 8, 0.5], tempC: [2, 38, 2], pH: [5.6, 9.4, 0.5] }
  ],
  [
    'acute limit',
    (v) => onward(ammoniaCriteria({ tempC: g(v, 'tempC'), pH: g(v, 'pH') }), (a) => a.acuteMgLAsN),
    { tempC: [2, 28, 2], pH: [6.8, 8.7, 0.3] }
  ],
  [
    'chronic limit',
    (v) => onward(ammoniaCriteria({ tempC: g(v, 'tempC'), pH: g(v, 'pH') }), (a) => a.chronicMgLAsN),
    { tempC: [2, 28, 2], pH: [6.8, 8.7, 0.3] }
  ],
  [
    'free nitrous acid',
    (v) =>
      onward(
        nitrousAcid({ nitriteMgLAsN: g(v, 'no2'), tempC: g(v, 'tempC'), pH: g(v, 'pH') }),
        (a) => a.hno2MgL
      ),
    { no2: [1, 8, 0.5], tempC: [2, 48, 2], pH: [5.6, 9.4, 0.5] }
  ],
  [
    'carbon dioxide',
    (v) => onward(co2FromKh({ khDKh: g(v, 'kh'), pH: g(v, 'pH'), tempC: g(v, 'tempC') }), (a) => a.co2MgL),
    { kh: [2, 20, 1], pH: [6.2, 8.6, 0.4], tempC: [5, 40, 2] }
  ],
  [
    'pH at rest with the air',
    (v) => phAtAir({ khDKh: g(v, 'kh'), tempC: g(v, 'tempC'), co2Ppm: g(v, 'ppm') }),
    { kh: [2, 20, 1], tempC: [5, 40, 2], ppm: [400, 2000, 100] }
  ],
  [
    'pH of two waters together',
    (v) =>
      onward(
        mixWaters({
          a: { volumeL: 70, khDKh: g(v, 'khA'), pH: g(v, 'pHA'), tempC: 25 },
          b: { volumeL: 30, khDKh: 6, pH: g(v, 'pHB'), tempC: 25 }
        }),
        (a) => a.pHClosed
      ),
    { khA: [2, 12, 0.5], pHA: [6.4, 8, 0.2], pHB: [6.4, 8, 0.2] }
  ],
  [
    'oxygen',
    (v) => oxygenSaturation({ tempC: g(v, 'tempC'), salinityGkg: g(v, 'salt'), pressureAtm: g(v, 'atm') }),
    { tempC: [2, 38, 2], salt: [1, 30, 1], atm: [0.6, 1.05, 0.05] }
  ],
  [
    'cooling',
    (v) =>
      coolingTemp({
        startC: g(v, 'start'),
        roomC: g(v, 'room'),
        tauH: must(tauHours({ volumeL: 54, uaWPerK: g(v, 'ua') })),
        hours: g(v, 'hours')
      }),
    { start: [24, 30, 0.5], room: [15, 22, 0.5], ua: [5, 12, 1], hours: [1, 20, 1] }
  ],
  [
    'what a change leaves',
    (v) => afterChanges({ now: g(v, 'now'), tap: g(v, 'tap'), fraction: g(v, 'f') }),
    { now: [20, 80, 5], tap: [0, 10, 2], f: [0.1, 0.9, 0.1] }
  ]
]

describe('errors are carried by the corners of the box they span', () => {
  test.each(formulas)(
    'for %s no point inside the box leaves the span, and some corner reaches each end',
    (_name, formula, box) => {
      const names = Object.keys(box)
      const middle = fc.record(
        Object.fromEntries(names.map((name) => [name, fc.double({ min: 0, max: 1, noNaN: true })]))
      )
      fc.assert(
        fc.property(
          middle,
          fc.array(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 5, maxLength: 5 }), {
            minLength: 8,
            maxLength: 8
          }),
          (place, insides) => {
            const spans: Record<string, Span> = {}
            for (const name of names) {
              const [low, high, error] = box[name] ?? [0, 0, 0]
              spans[name] = plusMinus({ value: low + (place[name] ?? 0) * (high - low), error, floor: 0 })
            }
            const span = must(spread(spans, formula))
            expect(span.low).toBeLessThanOrEqual(span.value)
            expect(span.value).toBeLessThanOrEqual(span.high)
            const slack = 1e-9 * Math.max(1, Math.abs(span.high))
            for (const inside of insides) {
              const given: Record<string, number> = {}
              for (const [i, name] of names.entries()) {
                const { value, low, high } = spans[name] as Span
                const step = inside[i] ?? 0
                given[name] = step < 0 ? value + step * (value - low) : value + step * (high - value)
              }
              const there = must(formula(given))
              expect(there).toBeGreaterThanOrEqual(span.low - slack)
              expect(there).toBeLessThanOrEqual(span.high + slack)
            }
          }
        ),
        { numRuns: 60 }
      )
    }
  )

  test('without errors the span is the value itself', () => {
    const spans = {
      tan: plusMinus({ value: 1, error: 0 }),
      tempC: plusMinus({ value: 25, error: 0 }),
      pH: plusMinus({ value: 8, error: 0 })
    }
    const span = must(spread(spans, share))
    expect(span.low).toBe(span.value)
    expect(span.high).toBe(span.value)
  })

  test('the size agrees with rules of thumb: pH up 0.1 is +26 %, down 0.1 is -21 %, a degree is 7 % (derived from the formula)', () => {
    const at = (pH: number, tempC: number) => must(share({ tan: 1, tempC, pH }))
    expect(at(7.1, 25) / at(7, 25) - 1).toBeCloseTo(0.26, 2)
    expect(at(6.9, 25) / at(7, 25) - 1).toBeCloseTo(-0.205, 2)
    expect(at(7, 26) / at(7, 25) - 1).toBeCloseTo(0.07, 2)
  })

  test('a concentration does not go below nothing where a floor is set, and may where none is', () => {
    expect(plusMinus({ value: 0.1, error: 0.25, floor: 0 })).toEqual({ value: 0.1, low: 0, high: 0.35 })
    expect(plusMinus({ value: 0.1, error: 0.25 }).low).toBeCloseTo(-0.15, 12)
  })

  test('a corner outside the range refuses the whole, and so does a middle outside', () => {
    const spans = { tan: plusMinus({ value: 1, error: 0 }), tempC: plusMinus({ value: 25, error: 0 }) }
    expect(refusedField(spread({ ...spans, pH: plusMinus({ value: 9.9, error: 0.2 }) }, share))).toBe('pH')
    expect(refusedField(spread({ ...spans, pH: plusMinus({ value: 11, error: 0 }) }, share))).toBe('pH')
  })

  test('an answer that is no number at some corner gets no span, the others keep theirs', () => {
    const ratio = (given: Record<'no2', number>) =>
      known({ ratio: given.no2 === 0 ? null : 1 / given.no2, twice: 2 * given.no2, word: 'x' })
    const spans = must(spreadEach({ no2: plusMinus({ value: 0.1, error: 0.2, floor: 0 }) }, ratio))
    expect(Object.keys(spans)).toEqual(['twice'])
    expect(spans.twice?.high).toBeCloseTo(0.6, 12)
  })
})

describe('the fast way for toxic ammonia', () => {
  test('equals the general way bit for bit over the whole range', () => {
    const span = (low: number, high: number, most: number) =>
      fc
        .tuple(fc.double({ min: low, max: high, noNaN: true }), fc.double({ min: 0, max: most, noNaN: true }))
        .map(([value, error]) => plusMinus({ value, error, floor: 0 }))
    fc.assert(
      fc.property(span(0, 10, 2), span(3, 47, 3), span(5.5, 9.5, 0.5), (tan, tempC, pH) => {
        expect(unionisedAmmoniaSpan({ tanMgLAsN: tan, tempC, pH })).toEqual(spread({ tan, tempC, pH }, share))
      }),
      { numRuns: 500 }
    )
  })

  test.each([
    ['tanMgLAsN', { value: -1, low: -1, high: 1 }],
    ['tanMgLAsN', { value: 1, low: 0, high: 1e9 }],
    ['tanMgLAsN', { value: Number.NaN, low: 0, high: 1 }],
    ['tempC', { value: 0, low: -1, high: 1 }],
    ['tempC', { value: 50, low: 49, high: 51 }],
    ['tempC', { value: 30, low: 20, high: 25 }],
    ['pH', { value: 5, low: 4.9, high: 5.1 }],
    ['pH', { value: 10, low: 9.9, high: 10.1 }],
    ['pH', { value: 7, low: Number.NaN, high: 7.1 }]
  ] as const)('refuses %s of %o and names it', (field, span) => {
    const fine = {
      tanMgLAsN: plusMinus({ value: 1, error: 0.25 }),
      tempC: plusMinus({ value: 25, error: 1 }),
      pH: plusMinus({ value: 8, error: 0.2 })
    }
    const answer = unionisedAmmoniaSpan({ ...fine, [field]: span })
    expect(refusedField(answer)).toBe(field)
  })
})

test('going on with an answer keeps a refusal as it is', () => {
  const range = { low: 0, high: 1, unit: 'm', source: 'here' }
  expect(onward(known(2), (value) => value + 1)).toEqual(known(3))
  const no = refused('x', 2, range) as Answer<number>
  expect(onward(no, (value) => value + 1)).toBe(no)
})
