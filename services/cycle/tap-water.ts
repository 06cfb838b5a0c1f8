import type { TapWater } from '../tank/profile.ts'
import { molarMass } from '../water/molar-masses.ts'

/** Nitrogen set free for each mg/L of monochloramine counted as chlorine. Source: molar masses, NH2Cl : Cl2 = 1 : 1. */
const nitrogenPerChloramine = molarMass.N / molarMass.Cl2
/**
 * Chloramine in tap water, mg/L as Cl2, where a supplier uses it: usual, low end, and the most that is allowed
 * in the United States (4.0 mg/L, EPA maximum residual disinfectant level; from memory).
 */
const chloramineAsCl2 = { value: 2.5, low: 1, high: 4 } as const

/**
 * Ammonia that fresh tap water brings, once a conditioner has broken its chloramine.
 * Units: mg N/L.
 * Valid: tap water; zero where the keeper said nothing.
 * Source: what the keeper measured, plus the nitrogen of chloramine at usual strength.
 * Exact to: its span.
 */
export function tapAmmonia(
  tap: TapWater | undefined
): Readonly<{ value: number; low: number; high: number }> {
  const own = tap?.ammoniaMgLAsN ?? 0
  if (tap?.disinfectant === 'chloramine')
    return {
      value: own + chloramineAsCl2.value * nitrogenPerChloramine,
      low: own + chloramineAsCl2.low * nitrogenPerChloramine,
      high: own + chloramineAsCl2.high * nitrogenPerChloramine
    }
  const perhaps = tap?.disinfectant === 'unknown' ? chloramineAsCl2.high * nitrogenPerChloramine : 0
  return { value: own, low: own, high: own + perhaps }
}
