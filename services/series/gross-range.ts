import type { QualityFlag } from './roll-up.ts'

/** Inclusive span of values. */
export type Span = readonly [low: number, high: number]

/**
 * QARTOD test 4, gross range: what no sensor or no keeper of this kind of water would ever show.
 * Answers 1 pass, 3 suspect, 4 fail, 9 missing.
 *
 * Units: those of the spans.
 * Valid: the suspect span lies inside the fail span; the ends belong to the span.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, version 1.0 (2019), test 4.
 * Exact to: exact.
 */
export function flagGrossRange(
  value: number | null,
  limits: Readonly<{ fail: Span; suspect?: Span | undefined }>
): 1 | 3 | 4 | 9 {
  if (value === null || Number.isNaN(value)) return 9
  if (isOutside(value, limits.fail)) return 4
  return limits.suspect !== undefined && isOutside(value, limits.suspect) ? 3 : 1
}

const isOutside = (value: number, [low, high]: Span): boolean => value < low || value > high

/**
 * The same test for a whole series, null where a value is missing.
 * Units, Valid, Source, Exact to: as `flagGrossRange`.
 */
export const flagGrossRanges = (
  values: readonly (number | null)[],
  limits: Readonly<{ fail: Span; suspect?: Span | undefined }>
): readonly QualityFlag[] => values.map((value) => flagGrossRange(value, limits))

/** A conversion from degF or K leaves a fault code off by a rounding. */
const codeWidth = 1e-6

/** Whether a value is one that a sensor or its driver sends instead of a measurement, such as 85.0 or -127. */
export const isFaultCode = (value: number, codes: readonly number[] | undefined): boolean =>
  codes?.some((code) => Math.abs(value - code) < codeWidth) === true
