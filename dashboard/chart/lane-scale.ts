import type { LaneBand, LaneName } from './lane-facts.ts'

export type LaneScale = Readonly<{ bottom: number; top: number }>

/** The narrowest stretch a lane may show, so that noise does not look like a storm. */
const narrowest: Readonly<Record<LaneName, number>> = { temperature: 2, ph: 0.6, nh3: 0.02, nitrite: 0.5 }

/**
 * The stretch of values a lane shows: the band in the middle three fifths, wider where the water left it,
 * but never so wide that the band becomes a hair: beyond three bands the line runs along the rim.
 */
export function laneScale(
  given: Readonly<{ lane: LaneName; band: LaneBand; lowest: number | null; highest: number | null }>
): LaneScale {
  const { lane, band, lowest, highest } = given
  const fromZero = lane === 'nh3' || lane === 'nitrite'
  const low = band.low ?? (fromZero ? 0 : (lowest ?? band.high ?? 0))
  const high = band.high ?? highest ?? low
  const span = Math.max(high - low, narrowest[lane])
  const middle = band.low === null && band.high === null && !fromZero ? (low + high) / 2 : null
  const floor = middle === null ? low : middle - span / 2
  const ceiling = middle === null ? (band.high ?? floor + span) : middle + span / 2
  const reach = Math.max(ceiling - floor, narrowest[lane])
  const air = reach * 0.22
  const bottom = Math.min(floor - (fromZero ? reach * 0.12 : air), (lowest ?? floor) - reach * 0.08)
  const top = Math.max(ceiling + air, (highest ?? ceiling) + reach * 0.08)
  const limit = reach * 1.6
  return {
    bottom: fromZero ? floor - reach * 0.12 : Math.max(bottom, floor - limit),
    top: Math.min(top, ceiling + limit)
  }
}

/** Where a value stands on the lane, 0 at the top and 1 at the bottom; beyond the rim it stays on the rim. */
export function placeOnLane(value: number, scale: LaneScale): number {
  const frac = (scale.top - value) / (scale.top - scale.bottom)
  return Math.min(1, Math.max(0, frac))
}
