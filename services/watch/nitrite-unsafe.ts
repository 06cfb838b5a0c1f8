import { nitriteSteps } from '../water/toxicity-tiers.ts'
import type { Judged } from './judged.ts'

/** Above which nitrite a keeper watches, acts, and has an emergency, mg N/L. */
export type NitriteLimits = Readonly<{
  watch: number
  act: number
  emergency: number
  chloride: ChlorideRule
}>
export type ChlorideRule = 'unknown' | 'guards' | 'some' | 'hardly-any'

/**
 * The limits with the chloride rule worked in: one tier milder while chloride is ten times the nitrite-N or more,
 * one tier harder while it is less than three times.
 * Units: mg N/L, mg Cl/L.
 * Valid: fresh water.
 * Source: the steps of `toxicity-tiers.ts`.
 * Exact to: exact.
 */
export function nitriteLimits(chlorideMgL: number | null): NitriteLimits {
  const { watch, act, emergency, traceMgLAsN, milderFromRatio, harderBelowRatio } = nitriteSteps
  const plain = { watch: watch.mgLAsN, act: act.mgLAsN, emergency: emergency.mgLAsN }
  if (chlorideMgL === null) return { ...plain, chloride: 'unknown' }
  const guardedUpTo = chlorideMgL / milderFromRatio
  const bareFrom = Math.max(traceMgLAsN, chlorideMgL / harderBelowRatio)
  return {
    watch: Math.min(bareFrom, Math.max(plain.watch, guardedUpTo), plain.act),
    act: Math.min(Math.max(plain.watch, bareFrom), Math.max(plain.act, guardedUpTo), plain.emergency),
    emergency: Math.min(Math.max(plain.act, bareFrom), Math.max(plain.emergency, guardedUpTo)),
    chloride: 'some'
  }
}

/** Which part of the rule holds for so much nitrite. */
export function chlorideRuleFor(nitriteMgLAsN: number, chlorideMgL: number | null): ChlorideRule {
  if (chlorideMgL === null) return 'unknown'
  if (nitriteMgLAsN <= 0 || chlorideMgL / nitriteMgLAsN >= nitriteSteps.milderFromRatio) return 'guards'
  return chlorideMgL / nitriteMgLAsN < nitriteSteps.harderBelowRatio ? 'hardly-any' : 'some'
}

/** Nitrite stands above the tier at which a keeper must act, or above that of an emergency. */
export function judgeNitriteUnsafe(
  given: Readonly<{
    nitrite: Readonly<{
      value: number | null
      low: number | null
      high: number | null
      asOfMs: number | null
    }>
    chlorideMgL: number | null
    /** Salt that would bring the chloride to ten times the nitrite, for the whole tank. */
    saltG: number | null
    deadbandMgL: number
    stood: boolean
  }>
): Judged {
  const { nitrite, chlorideMgL, stood } = given
  const { value, low, high, asOfMs } = nitrite
  if (value === null) return 'cannot-tell'
  const limits = nitriteLimits(chlorideMgL)
  if (value <= limits.act - (stood ? given.deadbandMgL : 0)) return null
  const emergency = value > limits.emergency
  return {
    because: emergency ? 'beyond-emergency-tier' : 'beyond-act-tier',
    value,
    unit: 'mg N/L',
    limit: emergency ? limits.emergency : limits.act,
    facts: {
      chloride: chlorideRuleFor(value, chlorideMgL),
      ...(chlorideMgL === null ? {} : { chlorideMgL }),
      ...(low === null ? {} : { lowMgLAsN: low }),
      ...(high === null ? {} : { highMgLAsN: high }),
      ...(asOfMs === null ? {} : { testedAtMs: asOfMs }),
      ...(given.saltG === null ? {} : { saltG: given.saltG })
    }
  }
}
