import type { LaneBand, LaneName } from './lane-facts.ts'

export type LaneScale = Readonly<{ bottom: number; top: number }>

/** Room above and below for the head of the line; the numbers on the banks reckon with it. */
export const laneAirPx = 9

/** The narrowest stretch a lane may show, so that noise does not look like a storm. */
const narrowest: Readonly<Record<LaneName, number>> = { temperature: 2, ph: 0.6, nh3: 0.02, nitrite: 0.5 }

/**
 * The stretch of values a lane shows: the band in the middle three fifths, wider where the water left it,
 * but never so wide that the band becomes a hair: beyond three bands the line runs along the rim.
 */
export function laneScale(
  given: Readonly<{ lane: LaneName; band: LaneBand; lowest: number | null; highest: number | null }>
): LaneScale {
  const { lane, lowest, highest } = given
  const fromZero = lane === 'nh3' || lane === 'nitrite'
  const { floor, ceiling } = middleOf(given, fromZero)
  const reach = ceiling - floor
  const limit = reach * 1.6
  const top = Math.max(ceiling + reach * 0.22, (highest ?? ceiling) + reach * 0.08)
  const bottom = Math.min(floor - reach * 0.22, (lowest ?? floor) - reach * 0.08)
  return {
    bottom: fromZero ? floor - reach * 0.12 : Math.max(bottom, floor - limit),
    top: Math.min(top, ceiling + limit)
  }
}

/** The stretch that stands in the middle: the band, or where an edge is missing, what the values reach on that side. */
function middleOf(
  given: Readonly<{ lane: LaneName; band: LaneBand; lowest: number | null; highest: number | null }>,
  fromZero: boolean
): Readonly<{ floor: number; ceiling: number }> {
  const { band, lowest, highest } = given
  const least = narrowest[given.lane]
  const low = band.low ?? (fromZero ? 0 : null)
  const { high } = band
  if (low !== null && high !== null) return { floor: low, ceiling: high > low ? high : low + least }
  if (low !== null) return { floor: low, ceiling: Math.max(low + least, highest ?? low) }
  if (high !== null) return { floor: Math.min(high - least, lowest ?? high), ceiling: high }
  const middle = ((lowest ?? highest ?? 0) + (highest ?? lowest ?? 0)) / 2
  const half = Math.max(least, (highest ?? 0) - (lowest ?? 0)) / 2
  return { floor: middle - half, ceiling: middle + half }
}

/** Where a value stands on the lane, 0 at the top and 1 at the bottom; beyond the rim it stays on the rim. */
export function placeOnLane(value: number, scale: LaneScale): number {
  const frac = (scale.top - value) / (scale.top - scale.bottom)
  return Math.min(1, Math.max(0, frac))
}
