import type { HeaterStanding } from './heater-standing.ts'
import { sureOn } from './heating-cycle.ts'

export type StuckOnSign = 'above-band-and-heat-goes-on' | 'power-above-band' | null

/** How far the room may seem from its usual self before the slope says nothing of the heater, kelvin. */
const roomK = { cooler: 2.5, warmer: 4 }
/** Heat that began so near the lower edge was the thermostat's own. */
const fromEdgeK = 0.12
/** Heat that began elsewhere may be the sun: it is gone after so long. Common practice, no source. */
const sunIsGoneMin = 225
/** Full sun on a tank is about a watt a litre, 0.86 K/h; a heater well above that is none. Common practice, no source. */
const sunPerH = 1.05

/** The water is above the last plausible switching point of its thermostat, and goes on warming as with heat. */
export function stuckOnSign(standing: HeaterStanding): StuckOnSign {
  const { atMin, isLive, belief, highestC, power } = standing
  if (!isLive || highestC === null || belief.waterC <= highestC) return null
  if (power !== null) return power.isOn ? 'power-above-band' : null
  if (belief.onFrac <= sureOn) return null
  const gapK = belief.restC - standing.usualRestC
  if (gapK <= -roomK.cooler || gapK >= roomK.warmer) return null
  const { lower, prior, onFromC } = standing
  const edgeC =
    lower === null ? (prior.setpointC ?? Number.NEGATIVE_INFINITY) - 0.1 : lower.middleC + fromEdgeK
  if (onFromC < edgeC) return 'above-band-and-heat-goes-on'
  // Came on in the middle of the band, or above it: heater or sun.
  if (onFromC >= highestC - 0.1) return null
  const isNoSun = prior.heatingPerH > sunPerH || !standing.sunMayShine
  return isNoSun || atMin - standing.onSinceMin > sunIsGoneMin ? 'above-band-and-heat-goes-on' : null
}
