import type { SeriesPoint } from '../tank/record.ts'
import { flagOfWorth, worthOf } from './rollups.ts'

/** One row of any level on its way into a point of the answer. */
export type BucketRow = Readonly<{
  atMs: number
  count: number
  countBad: number
  sum: number
  min: number | null
  max: number | null
  worst: number
}>

/** Rows in time order, gathered into steps of one width; a step without a row stays a gap. */
export function gatherBuckets(rows: Iterable<BucketRow>, stepMs: number): SeriesPoint[] {
  const points: SeriesPoint[] = []
  let open: { -readonly [Field in keyof BucketRow]: BucketRow[Field] } | undefined
  for (const row of rows) {
    const atMs = Math.floor(row.atMs / stepMs) * stepMs
    if (open === undefined || open.atMs !== atMs) {
      if (open !== undefined) points.push(pointOf(open))
      open = { ...row, atMs }
      continue
    }
    open.count += row.count
    open.countBad += row.countBad
    open.sum += row.sum
    open.worst = Math.max(open.worst, row.worst)
    if (row.min !== null) open.min = open.min === null ? row.min : Math.min(open.min, row.min)
    if (row.max !== null) open.max = open.max === null ? row.max : Math.max(open.max, row.max)
  }
  if (open !== undefined) points.push(pointOf(open))
  return points
}

/** A row as a point of its own. */
export function pointOf(row: BucketRow): SeriesPoint {
  const mean = row.count === 0 ? Number.NaN : row.sum / row.count
  return {
    atMs: row.atMs,
    mean: Number.isFinite(mean) ? mean : null,
    min: row.min,
    max: row.max,
    count: row.count,
    countBad: row.countBad,
    flag: flagOfWorth(row.worst)
  }
}

/** A point as a row again, for a further gathering. */
export const rowOf = (point: SeriesPoint): BucketRow => ({
  ...point,
  sum: (point.mean ?? 0) * point.count,
  worst: worthOf(point.flag)
})

/** The usual distance of points that follow no step: the median of the distances, at least 1 ms. */
export function usualDistanceMs(points: readonly SeriesPoint[]): number {
  const distances = points.slice(1).map((point, index) => point.atMs - (points[index]?.atMs ?? 0))
  distances.sort((a, b) => a - b)
  return Math.max(1, distances[distances.length >> 1] ?? 1)
}
