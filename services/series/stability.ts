import { median } from './median.ts'
import type { Point } from './points.ts'
import { theilSenSlopePerHour } from './slope.ts'

export type StabilityLimits = Readonly<{
  /** How long the value must have been steady. */
  windowMs: number
  fewest: number
  mostRange: number
  mostPerMinute: number
}>

/** Whether a reading has settled, with the numbers that say so. */
export type Stability = Readonly<{
  stable: boolean
  because: 'too-few' | 'too-short' | 'still-drifting' | 'too-noisy' | 'steady'
  /** The middle of the window; null where nothing came. */
  value: number | null
  count: number
  overMs: number
  range: number
  perMinute: number | null
}>

/**
 * Whether a probe in a buffer, or beside a thermometer, has settled: over the window it neither moves nor drifts.
 * Both are asked, because a slow electrode creeps with little noise, and a loose cable is noisy without drift.
 * Units: those of the values; milliseconds; per minute.
 * Valid: points in time order up to now, from when the probe was put in.
 * Source: common practice, no source; slope by Theil 1950 and Sen 1968.
 * Exact to: an electrode that settles within a minute or faster is then within the range limit of its end.
 */
export function judgeStability(points: readonly Point[], limits: StabilityLimits): Stability {
  const newestMs = points.at(-1)?.atMs ?? 0
  const inTime = points.filter((point) => point.atMs >= newestMs - limits.windowMs)
  const window = inTime.length >= limits.fewest ? inTime : points.slice(-limits.fewest)
  const values = window.map((point) => point.value)
  const overMs = newestMs - (window[0]?.atMs ?? newestMs)
  const range = values.length === 0 ? 0 : Math.max(...values) - Math.min(...values)
  const perHour = theilSenSlopePerHour(thinned(window))
  const perMinute = perHour === null ? null : perHour / 60
  const because = reasonOf({ count: window.length, overMs, range, perMinute }, points, limits)
  return {
    stable: because === 'steady',
    because,
    value: median(values),
    count: window.length,
    overMs,
    range,
    perMinute
  }
}

/** Pairs grow with the square, and a few dozen points tell the slope as well as all of them. */
const mostForSlope = 30
function thinned(points: readonly Point[]): readonly Point[] {
  const every = Math.ceil(points.length / mostForSlope)
  return points.filter((_, at) => (points.length - 1 - at) % every === 0)
}

function reasonOf(
  seen: Pick<Stability, 'count' | 'overMs' | 'range' | 'perMinute'>,
  points: readonly Point[],
  limits: StabilityLimits
): Stability['because'] {
  if (seen.count < limits.fewest || seen.perMinute === null) return 'too-few'
  const heardMs = (points.at(-1)?.atMs ?? 0) - (points[0]?.atMs ?? 0)
  if (heardMs < limits.windowMs) return 'too-short'
  if (Math.abs(seen.perMinute) > limits.mostPerMinute) return 'still-drifting'
  return seen.range > limits.mostRange ? 'too-noisy' : 'steady'
}
