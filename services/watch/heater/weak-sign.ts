import { deliveredFrac, type HeaterStanding } from './heater-standing.ts'

export type WeakSign =
  | 'heat-does-not-suffice'
  | 'power-below-rated'
  | 'thermostat-wanders'
  | 'room-or-heater-cannot-tell'
  | null

/** Water moved so shortly before tells another story. */
const afterMovedMin = 120
/** Between no heat at all, and all of it within what a slope can tell. */
const someHeat = { least: 0.2, most: 0.75 }
const anyHeatMost = 0.9
/** Rooms cool by less than this of a sudden; what lacks more is the heater's. Tuned, see the fault bank. */
const roomExplainsK = 3.7
const shortByK = { least: 0.1, spreads: 1.5 }
/** A heater that can hardly lift the water above the room cannot be told from the room. */
const tellableLiftK = 5
const wornPowerFrac = 0.75
/** Both edges off their earlier places by so much, kelvin, are no scatter any more. Tuned, see the fault bank. */
const wanderK = 0.3

/**
 * Some heat arrives and the water still lies below its band. Whether the heater has grown weak or the room too cold
 * for it, temperature alone can often not decide; then it says so.
 */
export function weakSign(standing: HeaterStanding): WeakSign {
  const { power, isLive, lower, belief, prior } = standing
  if (
    power !== null &&
    power.onW !== null &&
    power.ratedW !== null &&
    power.onW < wornPowerFrac * power.ratedW
  )
    return 'power-below-rated'
  if (standing.wanderedK !== null && Math.abs(standing.wanderedK) > wanderK) return 'thermostat-wanders'
  if (!isLive || standing.atMin - standing.movedMin < afterMovedMin) return null
  const belowC =
    lower === null || lower.count < 4
      ? standing.lowestC
      : lower.middleC - Math.max(shortByK.least, shortByK.spreads * lower.spreadK)
  if (belowC === null || belief.waterC >= belowC) return null
  const share = deliveredFrac(standing)
  // A heater this small and a cooler room look alike, whatever the slope.
  if (prior.liftK < tellableLiftK) return 'room-or-heater-cannot-tell'
  if (share < someHeat.least || share > anyHeatMost) return null
  const liftK = belief.heatingPerH * prior.coolingH
  const isHeaters = share < someHeat.most && (1 - share) * liftK > roomExplainsK
  if (isHeaters && power === null) return 'heat-does-not-suffice'
  return 'room-or-heater-cannot-tell'
}
