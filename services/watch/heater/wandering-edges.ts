import { median } from '../../series/median.ts'
import type { Edge, Switching } from './learned-band.ts'

const dayMin = 1440
/** Newest switchings that are held against earlier ones. */
const newest = 4
const earlierLeast = 6
const newestWithinMin = 1.5 * dayMin

/** How far both edges moved alike within the last day against the days before, by the smaller; null where that cannot be told. */
export function wanderedK(
  lowers: readonly Switching[],
  uppers: readonly Switching[],
  nowMin: number
): number | null {
  const low = movedK(lowers, nowMin)
  const high = movedK(uppers, nowMin)
  return low === null || high === null ? null : alikeK(low, high)
}

/** How far the newest switchings lie from those of earlier days. */
function movedK(list: readonly Switching[], nowMin: number): number | null {
  const recent = list.slice(-newest)
  if (recent.length < newest || nowMin - (recent[0]?.atMin ?? 0) > newestWithinMin) return null
  const earlier = list.filter(({ atMin }) => atMin < nowMin - newestWithinMin)
  const now = median(recent.map(({ tempC }) => tempC))
  const then = median(earlier.map(({ tempC }) => tempC))
  return now === null || then === null || earlier.length < earlierLeast ? null : now - then
}

/** An edge is followed to the middle of so few switchings, not older than this, once they lie plainly off. Tuned. */
const followedBy = 3
const followWithinMin = 4 * dayMin
const plainSpreads = 0.8

/** How far the newest switchings lie off their edges' middles, where those of both edges do so alike. Units: K. */
export function followedK(
  low: Readonly<{ lowers: readonly Switching[]; lower: Edge | null }>,
  high: Readonly<{ uppers: readonly Switching[]; upper: Edge | null }>,
  nowMin: number
): number {
  const a = offMiddleK(low.lowers, low.lower, nowMin)
  const b = offMiddleK(high.uppers, high.upper, nowMin)
  if (a * b <= 0) return 0
  return (a + b) / 2
}

function offMiddleK(list: readonly Switching[], edge: Edge | null, nowMin: number): number {
  if (edge === null || edge.count < 2 * followedBy) return 0
  const recent = list.slice(-followedBy).filter(({ atMin }) => nowMin - atMin < followWithinMin)
  const now = median(recent.map(({ tempC }) => tempC))
  if (recent.length < 2 || now === null) return 0
  const off = now - edge.middleC
  return Math.abs(off) > plainSpreads * edge.spreadK ? off : 0
}

const alikeK = (low: number, high: number): number | null =>
  low * high <= 0 ? null : Math.abs(low) < Math.abs(high) ? low : high
