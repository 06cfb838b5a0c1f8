import { type HeaterStanding, restWithoutHeatC } from './heater-standing.ts'
import { sureOn } from './heating-cycle.ts'

export type StuckOnSign = 'above-band-and-heat-goes-on' | 'power-above-band' | 'power-came-too-warm' | null

/** How far the room may seem from its usual self before the slope says nothing of the heater, kelvin. */
const roomK = { cooler: 2.5, warmer: 4 }
/** Heat that began so near the upper edge, or above it, is no thermostat's. */
const fromEdgeK = 0.1
/** Heat that began so near the lower edge was the thermostat's own. */
const ownEdgeK = 0.12
/** Heat of another pace than the heater's own may be the sun: it is gone after so long. Common practice, no source. */
const sunIsGoneMin = 225
/** Full sun on a tank is about a watt a litre, 0.86 K/h; a heater well above that is none. Common practice, no source. */
const sunPerH = 1.05
/** The sun is hardly ever as strong as this very heater: so near its own pace it is the heater's heat. */
const ownPace = { leastK: 0.8, ofLiftFrac: 0.08 }
const came = { stillMin: 90, seen: 8, aboveK: 0.15, spreads: 4.5 }
/** What hardly lifts the water above the room cannot be told from a warm room. */
const tellableLiftK = 5
/** So far above the band, and so much above what the warmest room explains, the wait is over. */
const far = { aboveK: 0.8, aboveSunK: 2.5, roomK: 10, ofLiftFrac: 0.75, hottestRoomC: 39 }

/** The water is above the last plausible switching point of its thermostat, and goes on warming as with heat. */
export function stuckOnSign(standing: HeaterStanding): StuckOnSign {
  const { atMin, isLive, belief, highestC, power } = standing
  if (!isLive || highestC === null) return null
  if (power !== null) {
    if (!power.isOn) return null
    if (belief.waterC > highestC) return 'power-above-band'
    return cameTooWarm(standing) ? 'power-came-too-warm' : null
  }
  if (belief.waterC <= highestC) return null
  const { prior, lower, onFromC } = standing
  if (belief.onFrac <= sureOn || prior.liftK < tellableLiftK || !standing.isRestLearned) return null
  const gapK = belief.restC - standing.usualRestC
  if (gapK <= -roomK.cooler || gapK >= roomK.warmer) return null
  if (lower !== null && onFromC < lower.middleC + ownEdgeK) return 'above-band-and-heat-goes-on'
  // Came on in the middle of the band: heater or sun. Warmth that came above the band is the room's.
  if (onFromC >= highestC - fromEdgeK) return null
  const isOwnPace = Math.abs(gapK) < Math.max(ownPace.leastK, ownPace.ofLiftFrac * prior.liftK)
  const isNoSun =
    !standing.sunMayShine ||
    isOwnPace ||
    prior.heatingPerH > sunPerH ||
    atMin - standing.onSinceMin > sunIsGoneMin
  return isNoSun ? 'above-band-and-heat-goes-on' : null
}

/** The power came while the water was far above where this thermostat calls for heat. */
function cameTooWarm({ lower, onFromC, onSinceMin, movedMin }: HeaterStanding): boolean {
  if (lower === null || lower.count < came.seen || onSinceMin - movedMin < came.stillMin) return false
  return onFromC > lower.middleC + Math.max(came.aboveK, came.spreads * lower.spreadK)
}

/** Far above the band, and bound for where only a heater brings water, whatever it came from. */
export function farAboveSign(standing: HeaterStanding): boolean {
  const { isLive, belief, highestC, prior, power, usualRestC } = standing
  if (!isLive || highestC === null || power?.isOn === false) return false
  const overK = belief.waterC - highestC
  const boundForC = restWithoutHeatC(standing)
  if (overK <= far.aboveK || prior.liftK < tellableLiftK || boundForC <= belief.waterC) return false
  if (boundForC > far.hottestRoomC && (!standing.sunMayShine || overK > far.aboveSunK)) return true
  return (
    boundForC - usualRestC > Math.max(far.roomK, far.ofLiftFrac * prior.liftK) &&
    (!standing.sunMayShine || prior.heatingPerH > sunPerH || overK > 2 * far.aboveK)
  )
}
