import type { ProbeReference } from './probe-reference.ts'

/** A mean month of the Gregorian calendar. */
export const monthMs = 30.436875 * 86_400_000

/** What is known of a probe's error: how far off it is, how fast that grows, and how sure both are. */
export type DriftBelief = Readonly<{
  atMs: number
  offset: number
  perMonth: number
  offsetVar: number
  perMonthVar: number
  covariance: number
}>

export type DriftPriors = Readonly<{ offsetPriorSd: number; perMonthPriorSd: number }>

/**
 * What is believed of a freshly calibrated probe.
 * Units: those of the probe; per month.
 * Valid: at the moment of calibration.
 * Source: prior of a two-state Kalman filter; the sizes are common practice, no source.
 * Exact to: exact.
 */
export const freshBelief = (atMs: number, priors: DriftPriors): DriftBelief => ({
  atMs,
  offset: 0,
  perMonth: 0,
  offsetVar: priors.offsetPriorSd ** 2,
  perMonthVar: priors.perMonthPriorSd ** 2,
  covariance: 0
})

/**
 * The belief carried on to a later moment: the offset grows by the drift, and so does the doubt.
 * Units: as `DriftBelief`.
 * Valid: atMs at or after the belief's own.
 * Source: R. E. Kalman 1960, A new approach to linear filtering and prediction problems, J. Basic Eng. 82:35-45.
 * Exact to: double precision.
 */
export function carryBelief(belief: DriftBelief, atMs: number): DriftBelief {
  const months = (atMs - belief.atMs) / monthMs
  return {
    ...belief,
    atMs,
    offset: belief.offset + belief.perMonth * months,
    offsetVar: belief.offsetVar + 2 * months * belief.covariance + months ** 2 * belief.perMonthVar,
    covariance: belief.covariance + months * belief.perMonthVar
  }
}

/** How many standard deviations a reference lies from what was expected of it. */
export function surpriseOf(belief: DriftBelief, reference: ProbeReference): number {
  const expected = carryBelief(belief, reference.atMs)
  const sd = Math.sqrt(expected.offsetVar + reference.referenceSd ** 2)
  return Math.abs(errorOf(reference) - expected.offset) / sd
}

/** Above zero where the probe reads high. */
export const errorOf = (reference: ProbeReference): number => reference.probe - reference.reference

/**
 * The belief after a reference.
 * Units: as `DriftBelief`.
 * Valid: reference at or after the belief's own time.
 * Source: as `carryBelief`.
 * Exact to: double precision.
 */
export function learnFrom(belief: DriftBelief, reference: ProbeReference): DriftBelief {
  const before = carryBelief(belief, reference.atMs)
  const total = before.offsetVar + reference.referenceSd ** 2
  const gainOffset = before.offsetVar / total
  const gainDrift = before.covariance / total
  const surprise = errorOf(reference) - before.offset
  return {
    atMs: reference.atMs,
    offset: before.offset + gainOffset * surprise,
    perMonth: before.perMonth + gainDrift * surprise,
    offsetVar: (1 - gainOffset) * before.offsetVar,
    perMonthVar: before.perMonthVar - gainDrift * before.covariance,
    covariance: (1 - gainOffset) * before.covariance
  }
}
