import { median } from './median.ts'
import type { Point } from './points.ts'

const hourMs = 3_600_000

/**
 * How fast a value changes: the median of the slopes of all pairs of points, so that single wild points do not
 * bend it. Null with fewer than three points or where all stand at one moment.
 * Units: value per hour; times in milliseconds.
 * Valid: at most a few hundred points (pairs grow with the square).
 * Source: H. Theil 1950, A rank-invariant method of linear and polynomial regression analysis, Proc. KNAW 53;
 *   P. K. Sen 1968, Estimates of the regression coefficient based on Kendall's tau, JASA 63:1379-1389.
 * Exact to: double precision.
 */
export function theilSenSlopePerHour(points: readonly Point[]): number | null {
  if (points.length < 3) return null
  const slopes: number[] = []
  points.forEach((a, at) => {
    for (const b of points.slice(at + 1))
      if (b.atMs !== a.atMs) slopes.push(((b.value - a.value) / (b.atMs - a.atMs)) * hourMs)
  })
  return median(slopes)
}
