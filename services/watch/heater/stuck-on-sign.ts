import { type HeaterStanding, restWithoutHeatC } from './heater-standing.ts'
import { sureOn } from './heating-cycle.ts'
import { cameTooWarm, cameTooWarmBySlope } from './out-of-turn.ts'
import { fullSun, nearSunPerH, sunPerH } from './sun-pace.ts'

export type StuckOnSign =
  | 'above-band-and-heat-goes-on'
  | 'heat-came-too-warm'
  | 'power-above-band'
  | 'power-came-too-warm'
  | null

/** How far the room may seem from its usual self before the slope says nothing of the heater, kelvin. */
const roomK = { cooler: 2.5, coolerOfLift: 0.3, warmer: 4, warmerOfLift: 0.4 }
/** Where the heater could not bring the water further than this beyond its edge, nothing is gained by guessing. */
const harmlessK = 0.7
/** Heat that began so near the upper edge, or above it, is no thermostat's. */
const fromEdgeK = 0.1
/** Heat that began so near the lower edge was the thermostat's own. */
const ownEdgeK = 0.12
const ownSeen = 5
/** Heat of another pace than the heater's own may be the sun: it is gone after so long. Common practice, no source. */
const sunIsGoneMin = 225
/** Tuned, see the fault bank. */
const weather = { belowLiftK: 10, afterMin: 100, ofLift: 0.1 } as const
/** The thermostat's own heat, too, may go over into that of the sun: by day it must be as sure as this. Tuned. */
const surestByDayFrac = 0.95
/** By so much the supposed rest may move within two hours without the sun. Tuned, see the fault bank. */
const calm = { leastK: 1.4, ofLiftFrac: 0.1 }
/** What hardly lifts the water above the room cannot be told from a warm room. */
const tellable = { leastK: 5, alwaysK: 8, seen: 6, alwaysSeen: 2 }
/** What lifts the water little above the room must be seen the more surely. Tuned, see the fault bank. */
const surer = { belowLiftK: 10, onFrac: 0.87 }
/** Heat that began so suddenly is a heater's: lift, how far the room may seem to have jumped, and how sure by night. Tuned. */
const sharp = { liftK: 3, gapK: 1.5, restOfLift: 0.4, onFrac: 0.7 } as const
/** So far above the band, and so much above what the warmest room explains, the wait is over. */
const far = { aboveK: 0.8, aboveSunK: 2.5, roomK: 12, ofLiftFrac: 0.75, hottestRoomC: 39 }

/** The water is above the last plausible switching point of its thermostat, and goes on warming as with heat. */
export function stuckOnSign(standing: HeaterStanding): StuckOnSign {
  const { isLive, belief, highestC, power } = standing
  if (!isLive || highestC === null) return null
  if (power !== null) {
    if (!power.isOn) return null
    if (belief.waterC > highestC) return 'power-above-band'
    return cameTooWarm(standing) ? 'power-came-too-warm' : null
  }
  if (belief.waterC <= highestC) return cameTooWarmBySlope(standing) ? 'heat-came-too-warm' : null
  const { prior } = standing
  const isSudden = isSharp(standing)
  const leastOnFrac =
    isSudden && !standing.sunMayShine ? sharp.onFrac : prior.liftK < surer.belowLiftK ? surer.onFrac : sureOn
  if (belief.onFrac <= leastOnFrac || !isTellable(standing) || !standing.isRestLearned) return null
  const gapK = belief.restC - standing.usualRestC
  if (gapK <= -Math.min(roomK.cooler, roomK.coolerOfLift * prior.liftK)) return null
  if (gapK >= Math.min(roomK.warmer, roomK.warmerOfLift * prior.liftK)) return null
  if (restWithoutHeatC(standing) - highestC < harmlessK || mayBeWeather(standing)) return null
  const { lower } = standing
  const isOwnHeat = lower !== null && lower.count >= ownSeen && standing.onFromC < lower.middleC + ownEdgeK
  // Came on in the middle of the band: heater or sun. Warmth that came above the band is the room's.
  if (!isOwnHeat && standing.onFromC >= highestC - fromEdgeK && !isSudden) return null
  return mayBeSun(standing, isOwnHeat) ? null : 'above-band-and-heat-goes-on'
}

/** A heater that lifts the water little above the room is told from a warm room only where its band is well known. */
function isTellable(standing: HeaterStanding): boolean {
  const { prior, lower, upper } = standing
  if (isSharp(standing)) return true
  if (prior.liftK >= tellable.alwaysK) return (lower?.count ?? 0) >= tellable.alwaysSeen
  return (
    prior.liftK >= tellable.leastK &&
    (lower?.count ?? 0) >= tellable.seen &&
    (upper?.count ?? 0) >= tellable.seen
  )
}

/**
 * Warmth of hours whose beginning was not plain, in a room that seems warmer than usual: where the heater lifts the
 * water little that is rather a hot day than a heater.
 */
function mayBeWeather({ atMin, onSinceMin, startGapK, belief, prior, usualRestC }: HeaterStanding): boolean {
  if (prior.liftK >= weather.belowLiftK || startGapK !== null) return false
  return atMin - onSinceMin > weather.afterMin && belief.restC - usualRestC > weather.ofLift * prior.liftK
}

/**
 * By day the sun may be what warms: it can come while the heater is on and stay when it is off. Then the supposed
 * rest moves as no room does; heat that began away from the heater's own edge may be the sun's alone.
 */
function mayBeSun(standing: HeaterStanding, isOwnHeat: boolean): boolean {
  const { atMin, prior, sunMayShine, restSpanK, onSinceMin } = standing
  const onMin = atMin - onSinceMin
  if (!sunMayShine) return false
  if (isAtSunsPace(standing)) return true
  if (onMin > sunIsGoneMin) return false
  if (restSpanK > Math.max(calm.leastK, calm.ofLiftFrac * prior.liftK)) return true
  if (prior.heatingPerH <= sunPerH && !isOwnHeat) return true
  return prior.heatingPerH <= nearSunPerH && standing.belief.onFrac < surestByDayFrac
}

/** In the usual room this would be heat slower than the heater's own, and no faster than the sun's. */
function isAtSunsPace({ belief, prior, usualRestC }: HeaterStanding): boolean {
  if (prior.heatingPerH <= fullSun.heaterAbovePerH) return false
  const seenPerH = prior.heatingPerH + (belief.restC - usualRestC) / prior.coolingH
  return seenPerH < Math.min(fullSun.mostPerH, prior.heatingPerH - fullSun.slowerByPerH)
}

/** Far above the band, and bound for where only a heater brings water, whatever it came from. */
export function farAboveSign(standing: HeaterStanding): boolean {
  const { isLive, belief, highestC, prior, power, usualRestC } = standing
  if (!isLive || highestC === null || power?.isOn === false) return false
  const overK = belief.waterC - highestC
  const boundForC = restWithoutHeatC(standing)
  if (overK <= far.aboveK || prior.liftK < tellable.leastK || boundForC <= belief.waterC) return false
  if (standing.sunMayShine && overK <= far.aboveSunK) return false
  return (
    boundForC > far.hottestRoomC || boundForC - usualRestC > Math.max(far.roomK, far.ofLiftFrac * prior.liftK)
  )
}

/**
 * Heat that began at once, with the room where it was: no room warms like that. Told so also where the thermostat has
 * hardly ever switched.
 */
const isSharp = (standing: HeaterStanding): boolean => {
  const { startGapK, prior, lower, onFromC, usualRestC } = standing
  if (startGapK === null || prior.liftK < sharp.liftK || !(Math.abs(startGapK) < sharp.gapK)) return false
  // Where the thermostat was never seen to switch, the water must have lain near its rest: no heat was mistaken for the room.
  return (lower?.count ?? 0) >= tellable.alwaysSeen || onFromC - usualRestC < sharp.restOfLift * prior.liftK
}
