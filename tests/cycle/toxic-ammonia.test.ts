import { describe, expect, test } from 'vitest'
import { co2At } from '../../services/cycle/carbon-dioxide.ts'
import { makeTankFacts } from '../../services/cycle/tank-facts.ts'
import { nh3At } from '../../services/cycle/toxic-ammonia.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import { kitTest, profile } from '../tank/a-profile.ts'

const hourMs = 3_600_000
const nowMs = 1_790_000_000_000
const factsOf = (...tests: readonly ManualTest[]) => makeTankFacts({ profile, tests, events: [] })
const live = (value: number) => ({ value, atMs: nowMs })

describe('toxic ammonia now', () => {
  test('follows the textbook share at 24 degC and pH 8.0: 5.02 % of 1 mg N/L, counted as NH3', () => {
    // Source: Fundamentals of Aquatic Veterinary Medicine, table 1.4 (after Emerson): 0.0502; NH3/N = 1.21589.
    const found = nh3At(factsOf(kitTest(nowMs, { ammonia: 1 })), {
      atMs: nowMs,
      tempC: live(24),
      pH: live(8)
    })
    expect(found.value).toBeCloseTo(0.0502 * 1.21589, 4)
    expect(found).toMatchObject({ estimated: false, asOfMs: nowMs, reason: 'from-test' })
  })

  test('spans at least what 0.1 of a pH does alone: a quarter up, a fifth down', () => {
    // Source: pH +0.1 is +26 %, -0.1 is -21 % of NH3 while most of it is ammonium.
    const { value, low, high } = nh3At(factsOf(kitTest(nowMs, { ammonia: 1 })), {
      atMs: nowMs,
      tempC: live(24),
      pH: live(7.5)
    })
    expect((high ?? 0) / (value ?? 1)).toBeGreaterThan(1.25)
    expect((low ?? 0) / (value ?? 1)).toBeLessThan(0.8)
  })

  test('a pH that rises by evening turns yesterday’s harmless test toxic', () => {
    const facts = factsOf(kitTest(nowMs - 20 * hourMs, { ammonia: 1 }))
    const at = (pH: number) => nh3At(facts, { atMs: nowMs, tempC: live(25), pH: live(pH) }).value ?? 0
    expect(at(7.2)).toBeLessThan(0.02)
    expect(at(8.2)).toBeGreaterThan(0.05)
  })

  test('serves with typed pH and temperature where there is no probe, and says that it estimates', () => {
    const facts = factsOf(kitTest(nowMs - hourMs, { ammonia: 1, ph: 8, temperature: 24 }))
    const found = nh3At(facts, { atMs: nowMs, tempC: null, pH: null })
    expect(found.value).toBeCloseTo(0.0502 * 1.21589, 4)
    expect(found.estimated).toBe(true)
    expect(found.from).toMatchObject({ pHFrom: 'typed', tempFrom: 'typed' })
  })

  const unknown = [
    { name: 'no test', tests: [], pH: live(7), reason: 'no-ammonia-test' },
    { name: 'no pH', tests: [kitTest(nowMs, { ammonia: 1 })], pH: null, reason: 'no-ph' },
    {
      name: 'a pH outside of the formula',
      tests: [kitTest(nowMs, { ammonia: 1 })],
      pH: live(4.2),
      reason: 'ph-out-of-range'
    },
    {
      name: 'a test from last week',
      tests: [kitTest(nowMs - 100 * hourMs, { ammonia: 1 })],
      pH: live(7),
      reason: 'too-old'
    }
  ]
  test.each(unknown)('is unknown with its reason: $name', ({ tests, pH, reason }) => {
    const found = nh3At(factsOf(...tests), { atMs: nowMs, tempC: live(24), pH })
    expect(found).toMatchObject({ value: null, low: null, high: null, reason })
  })
})

describe('carbon dioxide now', () => {
  test('agrees with an independent speciation: KH 4, pH 7.0, 25 degC gives 14.1 mg/L', () => {
    // Source: Plummer & Busenberg 1982 constants, activity 1, full speciation.
    const facts = factsOf(kitTest(nowMs - hourMs, { kh: 4 }))
    const found = co2At(facts, { atMs: nowMs, tempC: live(25), pH: live(7) })
    expect(found.value).toBeCloseTo(14.1, 1)
    expect(found.low).toBeLessThan(found.value ?? 0)
    expect(found.high).toBeGreaterThan(found.value ?? 0)
  })
  test('is unknown without a KH test', () => {
    const found = co2At(factsOf(), { atMs: nowMs, tempC: live(25), pH: live(7) })
    expect(found).toMatchObject({ value: null, reason: 'no-kh-test' })
  })
})
