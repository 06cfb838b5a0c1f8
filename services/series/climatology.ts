import type { Span } from './gross-range.ts'
import { quantileOfSorted } from './quantile.ts'
import type { QualityFlag } from './roll-up.ts'

/**
 * The band in which a channel has lived: between two shares of its values, widened by a margin. Null where fewer
 * than `fewest` values are known, because a band learned from little would call ordinary days unusual.
 * Units: those of the values; shares 0 to 1.
 * Valid: values of healthy, undisturbed time; the caller leaves out water changes and flagged readings.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 5; learned shares
 *   instead of seasons: common practice, no source.
 * Exact to: double precision.
 */
export function learnBand(
  values: readonly number[],
  limits: Readonly<{ lowFrac: number; highFrac: number; margin: number; fewest: number }>
): Span | null {
  if (values.length < Math.max(1, limits.fewest)) return null
  const sorted = [...values].sort((a, b) => a - b)
  const low = quantileOfSorted(sorted, limits.lowFrac)
  const high = quantileOfSorted(sorted, limits.highFrac)
  return low === null || high === null ? null : [low - limits.margin, high + limits.margin]
}

/**
 * QARTOD test 5, climatology: outside the learned band is suspect, never a fail. 2 without a band.
 * Units: those of the band.
 * Valid: the ends belong to the band.
 * Source: as `learnBand`.
 * Exact to: exact.
 */
export function flagClimatology(value: number | null, band: Span | null): QualityFlag {
  if (value === null || Number.isNaN(value)) return 9
  if (band === null) return 2
  return value < band[0] || value > band[1] ? 3 : 1
}
