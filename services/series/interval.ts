import { median } from './median.ts'

/**
 * How often something comes: the median distance of neighbouring times, so that a gap or a burst does not count.
 * Null with fewer than three times.
 * Units: milliseconds.
 * Valid: times in ascending order, each once.
 * Source: common practice, no source.
 * Exact to: double precision.
 */
export function typicalIntervalMs(timesMs: readonly number[]): number | null {
  if (timesMs.length < 3) return null
  return median(timesMs.slice(1).map((atMs, at) => atMs - (timesMs[at] as number)))
}
