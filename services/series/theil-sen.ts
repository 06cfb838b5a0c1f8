import { median } from './median.ts'
import type { Point } from './points.ts'

const dayMs = 86_400_000

export type RobustLine = Readonly<{
  perDay: number
  /** The ends of the interval of the slope. */
  perDayLow: number
  perDayHigh: number
  /** The line's value at a moment. */
  at: (atMs: number) => number
  /** Median distance of the points from the line, made comparable to a standard deviation. */
  spread: number
}>

/**
 * A straight line through points of which some may be wild: the median of the slopes of all pairs, with an interval
 * that holds the true slope with the asked share. The interval needs no normal errors, only alike ones: it counts
 * how many pairs can lie below the true slope by chance, and lies straight between the two nearest counts.
 * Null with fewer than five different moments.
 * Units: value per day; milliseconds.
 * Valid: at most a few hundred points; points of one moment count as one, their mean.
 * Source: H. Theil 1950, A rank-invariant method of linear and polynomial regression analysis, Proc. KNAW 53; P. K.
 *   Sen 1968, Estimates of the regression coefficient based on Kendall's tau, JASA 63:1379-1389 (interval by
 *   Kendall's null distribution); factor 1.4826 = 1 / 0.6745 of the normal distribution.
 * Exact to: double precision; the interpolated share is approximate within a per cent or two for few points.
 */
export function robustLine(
  points: readonly Point[],
  { shareFrac }: Readonly<{ shareFrac: number }>
): RobustLine | null {
  const moments = meanOfEachMoment(points)
  if (moments.length < 5) return null
  const slopes = moments
    .flatMap((a, at) => moments.slice(at + 1).map((b) => ((b.value - a.value) / (b.atMs - a.atMs)) * dayMs))
    .sort((a, b) => a - b)
  const perDay = median(slopes) as number
  const originMs = moments[0]?.atMs ?? 0
  const level = median(
    moments.map((point) => point.value - (perDay * (point.atMs - originMs)) / dayMs)
  ) as number
  const at = (atMs: number): number => level + (perDay * (atMs - originMs)) / dayMs
  const distances = moments.map((point) => Math.abs(point.value - at(point.atMs)))
  const rank = rankOfLowEnd(moments.length, shareFrac)
  return {
    perDay,
    perDayLow: atRank(slopes, rank),
    perDayHigh: atRank(slopes, slopes.length - 1 - rank),
    at,
    spread: (median(distances) as number) * 1.4826
  }
}

function meanOfEachMoment(points: readonly Point[]): readonly Point[] {
  const byMoment = new Map<number, number[]>()
  for (const point of points) byMoment.set(point.atMs, [...(byMoment.get(point.atMs) ?? []), point.value])
  return [...byMoment]
    .map(([atMs, values]) => ({ atMs, value: values.reduce((sum, value) => sum + value, 0) / values.length }))
    .sort((a, b) => a.atMs - b.atMs)
}

/** Straight between neighbours of a sorted list. */
function atRank(sorted: readonly number[], rank: number): number {
  const below = Math.floor(rank)
  const low = sorted[below] as number
  return low + ((sorted[below + 1] ?? low) - low) * (rank - below)
}

/**
 * How far from the end of the sorted slopes the interval ends. With `k` slopes cut off at either end it holds the
 * true slope with 1 - 2 P(at most k), where P is of the number of discordant pairs among `count` points.
 */
function rankOfLowEnd(count: number, shareFrac: number): number {
  let below = 0
  let heldBefore = 1
  for (const [k, probability] of discordantPairs(count).entries()) {
    below += probability
    const held = 1 - 2 * below
    if (held < shareFrac) return Math.max(0, k - 1 + (heldBefore - shareFrac) / (heldBefore - held))
    heldBefore = held
  }
  return 0
}

/** Kendall's null distribution: the chance of each number of discordant pairs in a random order. */
function discordantPairs(count: number): readonly number[] {
  let chances: readonly number[] = [1]
  for (let size = 2; size <= count; size += 1) {
    const before = chances
    let window = 0
    chances = Array.from({ length: before.length + size - 1 }, (_, k) => {
      window += (before[k] ?? 0) - (before[k - size] ?? 0)
      return window / size
    })
  }
  return chances
}
