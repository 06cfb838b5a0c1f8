import type { Point } from './points.ts'

/**
 * Exponentially weighted mean over time: what happened `tauMs` ago weighs 1/e of what happens now, whatever the
 * spacing of the points. Answers the smoothed value at the last point; null of nothing.
 * Units: those of the values; milliseconds.
 * Valid: points in time order, tauMs above 0.
 * Source: S. W. Roberts 1959, Control chart tests based on geometric moving averages, Technometrics 1:239-250,
 *   with the weight exp(-dt/tau) of a first-order lag for unequal spacing.
 * Exact to: double precision.
 */
export function ewmaByTime(points: readonly Point[], { tauMs }: Readonly<{ tauMs: number }>): number | null {
  let smoothed: number | null = null
  let atMs = 0
  for (const point of points) {
    if (smoothed === null) smoothed = point.value
    else smoothed = point.value + (smoothed - point.value) * Math.exp((atMs - point.atMs) / tauMs)
    atMs = point.atMs
  }
  return smoothed
}
