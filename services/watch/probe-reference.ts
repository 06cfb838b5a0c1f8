import { median } from '../series/median.ts'
import type { Point } from '../series/points.ts'

/** A trusted measurement beside what the probe said at that time. */
export type ProbeReference = Readonly<{
  atMs: number
  probe: number
  reference: number
  /** How well the reference itself is known. */
  referenceSd: number
}>

/** A test of the same water by hand. */
export type ReferenceResult = Readonly<{
  atMs: number
  value: number
  atLeast?: boolean | undefined
  atMost?: boolean | undefined
}>

/**
 * Pairs hand-made results with the probe: the median of what it said around that time. A result at the end of its
 * kit's scale says too little, one without a reading near it nothing, and one in water that was just then changing
 * compares two different waters: these are left out.
 * Units: those of the values; milliseconds.
 * Valid: readings corrected by the calibration in force, failed ones left out.
 * Source: common practice, no source.
 * Exact to: exact.
 */
export function probeReferences(
  given: Readonly<{ results: readonly ReferenceResult[]; readings: readonly Point[] }>,
  limits: Readonly<{ withinMs: number; mostRange: number; referenceSd: number }>
): readonly ProbeReference[] {
  return given.results.flatMap((result) => {
    if (result.atLeast === true || result.atMost === true) return []
    const near = given.readings
      .filter((reading) => Math.abs(reading.atMs - result.atMs) <= limits.withinMs)
      .map((reading) => reading.value)
    const probe = median(near)
    if (probe === null || Math.max(...near) - Math.min(...near) > limits.mostRange) return []
    return [{ atMs: result.atMs, probe, reference: result.value, referenceSd: limits.referenceSd }]
  })
}
