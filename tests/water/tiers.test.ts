import { describe, expect, test } from 'vitest'
import {
  ammoniaTier,
  nitrateBelievable,
  nitrateTier,
  nitriteTier,
  tiers
} from '../../services/water/toxicity-tiers.ts'
import { must } from '../tables/must.ts'

describe('how bad toxic ammonia is', () => {
  // Steps: a working choice from CCME 0.019, UF/IFAS FA16 0.05 and Thurston & Russo 1983 0.16 to 1.1 mg NH3/L.
  test.each([
    [0, 'fine'],
    [0.019, 'fine'],
    [0.02, 'watch'],
    [0.049, 'watch'],
    [0.05, 'act'],
    [0.2, 'act'],
    [0.21, 'emergency'],
    [5, 'emergency']
  ] as const)('%d mg NH3/L is %s, with a reason', (nh3MgL, tier) => {
    const answer = must(ammoniaTier(nh3MgL))
    expect(answer.tier).toBe(tier)
    expect(answer.because).toMatch(/NH3/)
  })
})

describe('how bad nitrite is', () => {
  // Steps: a working choice; cutthroat fry die from 0.5 to 0.6 mg N/L (Thurston, Russo & Smith 1981).
  test.each([
    [0.05, undefined, 'fine'],
    [0.1, undefined, 'watch'],
    [0.3, undefined, 'watch'],
    [0.31, undefined, 'act'],
    [1, undefined, 'act'],
    [1.1, undefined, 'emergency'],
    // Chloride ten times the nitrite-N and more: one milder (SRAC 462, Durborow et al. 1997: 10 : 1).
    [0.2, 2, 'fine'],
    [0.5, 5, 'watch'],
    [2, 20, 'act'],
    [0.05, 10, 'fine'],
    // Less than three times: one harder.
    [0.05, 0.1, 'watch'],
    [0.2, 0.5, 'act'],
    [0.5, 1, 'emergency'],
    [2, 1, 'emergency'],
    // In between: as without knowing.
    [0.5, 2, 'act'],
    // A trace of nitrite in water without chloride stays a trace (British Columbia 0.02 mg N/L; from memory).
    [0.01, 0, 'fine'],
    [0, 0, 'fine']
  ] as const)('%d mg N/L with chloride %s is %s', (nitriteMgLAsN, chlorideMgL, tier) => {
    expect(must(nitriteTier({ nitriteMgLAsN, chlorideMgL })).tier).toBe(tier)
  })

  test('more nitrite is never judged milder, whatever the chloride', () => {
    for (const chlorideMgL of [undefined, 0, 1, 5, 20, 100]) {
      let before = 0
      for (let nitriteMgLAsN = 0; nitriteMgLAsN < 5; nitriteMgLAsN += 0.01) {
        const now = tiers.indexOf(must(nitriteTier({ nitriteMgLAsN, chlorideMgL })).tier)
        expect(now).toBeGreaterThanOrEqual(before)
        before = now
      }
    }
  })
})

describe('how bad nitrate is', () => {
  test.each([
    [10, 'fine'],
    [25, 'watch'],
    [50, 'watch'],
    [51, 'act']
  ] as const)('%d mg NO3/L is %s (common practice, no source)', (nitrateMgLAsNO3, tier) => {
    expect(must(nitrateTier(nitrateMgLAsNO3)).tier).toBe(tier)
  })

  test('its kit is not to be believed while nitrite is above 0.5 mg N/L', () => {
    expect(must(nitrateBelievable(0.5))).toBe(true)
    expect(must(nitrateBelievable(0.6))).toBe(false)
  })
})
