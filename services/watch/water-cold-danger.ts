import type { Point } from '../series/points.ts'
import type { Judged } from './judged.ts'
import { beyond, type WaterTemperature } from './temperature-limit.ts'

/**
 * The water is so cold that fish come to harm. Asks for the median of the last few minutes; while the probe is on the
 * move nothing can be told.
 */
export function judgeWaterColdDanger(given: WaterTemperature & Readonly<{ onTheMove?: boolean }>): Judged {
  const { band, tempC } = given
  if (tempC === null || given.onTheMove === true) return 'cannot-tell'
  if (band.dangerLow === null) return null
  return beyond(given, {
    limitC: band.dangerLow,
    side: 'below',
    because: 'below-danger-limit',
    harmfulC: null
  })
}

/**
 * No tank cools by 0.3 K in three minutes by itself: 20 L without heat in a room 15 K cooler need eight.
 * Reckoned from the heat loss of glass tanks.
 */
const moves = { byK: 0.3, withinMs: 3 * 60_000, lookBackMs: 15 * 60_000 }

/**
 * Whether the newest minute differs so much from one some minutes before that the probe cannot hang in still water:
 * it hangs in the air while the water is low, it just went back, or cold water flows past it.
 * Units: degC.
 * Valid: minutes of one probe, oldest first.
 */
export function isOnTheMove(minutes: readonly Point[]): boolean {
  const newest = minutes.at(-1)
  if (newest === undefined) return false
  const before = minutes.findLast(({ atMs }) => newest.atMs - atMs >= moves.withinMs)
  if (before === undefined || newest.atMs - before.atMs > moves.lookBackMs) return false
  return Math.abs(newest.value - before.value) > moves.byK
}
