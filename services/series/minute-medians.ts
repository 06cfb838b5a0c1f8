import { median } from './median.ts'
import type { Point } from './points.ts'

const minuteMs = 60_000
/** Enough for the last forty minutes at a reading a minute, and for hours of a slower probe. */
const mostMinutes = 42
/** A board that sends many a second is thinned, so that a minute stays small and evenly covered. */
const leastDistanceMs = 1000

/** The last minutes of a channel, each as the median of what came in it. Plain data: a restart can find it again. */
export type MinuteMedians = Readonly<{
  closed: readonly Point[]
  open: Readonly<{ startMs: number; values: readonly number[]; lastAtMs: number }> | null
}>

export const noMinutes: MinuteMedians = { closed: [], open: null }

/**
 * Takes the next reading in.
 * Units: milliseconds; those of the value.
 * Valid: readings in time order.
 * Source: definition of the sample median.
 * Exact to: double precision.
 */
export function addToMinutes(minutes: MinuteMedians, point: Point): MinuteMedians {
  const startMs = Math.floor(point.atMs / minuteMs) * minuteMs
  const { open } = minutes
  if (open !== null && open.startMs === startMs) {
    if (point.atMs - open.lastAtMs < leastDistanceMs) return minutes
    return { ...minutes, open: { startMs, values: [...open.values, point.value], lastAtMs: point.atMs } }
  }
  const all = minutesOf(minutes)
  const closed = all.length > mostMinutes ? all.slice(all.length - mostMinutes) : all
  return { closed, open: { startMs, values: [point.value], lastAtMs: point.atMs } }
}

/** All minutes in time order, the running one last. */
export function minutesOf(minutes: MinuteMedians): readonly Point[] {
  const value = median(minutes.open?.values ?? [])
  if (minutes.open === null || value === null) return minutes.closed
  return [...minutes.closed, { atMs: minutes.open.startMs, value }]
}
