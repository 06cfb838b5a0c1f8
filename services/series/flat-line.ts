import { median } from './median.ts'
import type { HoledSeries } from './rate-of-change.ts'
import type { QualityFlag } from './roll-up.ts'
import { newestFirst, type SpanBlocks } from './span-blocks.ts'

type FlatLimits = Readonly<{
  /** Values closer together than this count as the same; 0 can never fire. */
  tolerance: number
  suspectMs: number
  failMs: number
}>

/**
 * QARTOD test 8, flat line, in its published form: counts values. The times become counts by the usual interval,
 * and a value is flagged where it and the `count` values before it lie within the tolerance. Missing values are
 * passed over.
 * Units: milliseconds; those of the values.
 * Valid: at least three values, usual interval above 0 and at most the suspect time.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 8; times instead of
 *   counts, and "less than" the tolerance, as in the public library ioos_qc 3.0.0, flat_line_test.
 * Exact to: double precision; a spread exactly at the tolerance passes.
 */
export function flagFlatLines(series: HoledSeries, limits: FlatLimits): readonly QualityFlag[] {
  const { timesMs, values } = series
  const intervalMs = median(timesMs.slice(1).map((atMs, at) => atMs - (timesMs[at] as number)))
  const isFlat = (at: number, thresholdMs: number): boolean => {
    if (intervalMs === null || values.length < 3) return false
    const count = Math.floor(thresholdMs / intervalMs)
    if (at < count) return false
    const window = values.slice(at - count, at + 1).filter(isPresent)
    return window.length > 0 && Math.max(...window) - Math.min(...window) < limits.tolerance
  }
  return values.map((value, at) => {
    if (!isPresent(value)) return 9
    return isFlat(at, limits.failMs) ? 4 : isFlat(at, limits.suspectMs) ? 3 : 1
  })
}

const isPresent = (value: number | null): value is number => value !== null && !Number.isNaN(value)

/** A run of values without movement, up to now. */
export type FlatRun = Readonly<{ sinceMs: number; count: number }>

/**
 * Since when a value has not moved beyond the tolerance, for live use: by time, not by count, so that a probe which
 * sends faster is not judged sooner. A silence longer than `mostGapMs` breaks the run: nothing is known about it.
 * Units: milliseconds; those of the values.
 * Valid: blocks in time order; exact to the width of a block, always on the late side.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 8.
 * Exact to: the width of one block.
 */
export function flatRun(
  blocks: SpanBlocks,
  limits: Readonly<{ tolerance: number; mostGapMs: number }>
): FlatRun | null {
  let sinceMs: number | null = null
  let count = 0
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  for (const block of newestFirst(blocks)) {
    min = Math.min(min, block.min)
    max = Math.max(max, block.max)
    if (max - min >= limits.tolerance) break
    if (sinceMs !== null && sinceMs - block.toMs > limits.mostGapMs) break
    sinceMs = block.fromMs
    count += block.count
  }
  return sinceMs === null ? null : { sinceMs, count }
}

/** A run needs as many values as the published count form asks for a fail by default. */
const fewest = 5

/**
 * QARTOD test 8 for live use. Where the water is known to have had to move since `movementDueSinceMs`, the shorter
 * `movementDueMs` counts from then on.
 * Units: milliseconds.
 * Valid: run as answered by `flatRun`.
 * Source: as `flatRun`.
 * Exact to: as `flatRun`.
 */
export function flagFlatRun(
  ask: Readonly<{ run: FlatRun | null; nowMs: number; movementDueSinceMs?: number | null | undefined }>,
  limits: FlatLimits & Readonly<{ movementDueMs?: number | undefined }>
): QualityFlag {
  const { run, nowMs } = ask
  if (run === null || run.count < fewest) return 1
  const flatMs = nowMs - run.sinceMs
  if (flatMs >= limits.failMs) return 4
  const dueSinceMs = ask.movementDueSinceMs ?? null
  if (dueSinceMs !== null && limits.movementDueMs !== undefined)
    if (nowMs - Math.max(dueSinceMs, run.sinceMs) >= limits.movementDueMs) return 4
  return flatMs >= limits.suspectMs ? 3 : 1
}
