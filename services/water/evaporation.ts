import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'
import { saturationPressurePaAt } from './vapour-pressure.ts'

const carrier = 'Carrier 1918 in SI form as in the ASHRAE handbook (factors from memory)'
export const evaporationRanges = {
  waterC: { low: 0, high: 50, unit: 'degC', source: carrier },
  airC: { low: 0, high: 50, unit: 'degC', source: carrier },
  humidity: { low: 0, high: 1, unit: 'share of saturation', source: carrier },
  airSpeedMs: { low: 0, high: 2, unit: 'm/s', source: carrier },
  activity: { low: 0.1, high: 2, unit: '1', source: 'ASHRAE activity factor, 0.5 for still water' },
  areaM2: { low: 0, high: 10_000, unit: 'm2', source: carrier }
} as const

/** Shares of the Carrier rate for calmer water: quiet (Smith, Lof & Jones), still (ASHRAE, from memory). */
export const calm = { asPrinted: 1, quiet: 0.74, still: 0.5 } as const

function latentAt(waterC: number): number {
  return 2501 - 2.361 * waterC
}

/**
 * Says how much water leaves an open surface.
 * Units: degC, share of saturation, m/s, activity -> kg/(m2 h).
 * Valid: 0 to 50 degC, 0 to 2 m/s; negative where moist air wets the water instead.
 * Source: Carrier 1918, SI form (pw - pa)(0.089 + 0.0782 v)/Y (from memory); quiet water 74 % of it (Smith, Lof & Jones,
 *   ASHRAE paper 4146, abstract).
 * Exact to: arithmetic 0.005; nature 30 %.
 */
export function evaporationRate(given: {
  waterC: number
  airC: number
  humidity: number
  airSpeedMs?: number
  activity?: number
}): Answer<number> {
  const { waterC, airC, humidity, airSpeedMs = 0, activity = calm.asPrinted } = given
  const { areaM2: _area, ...ranges } = evaporationRanges
  const outside = firstOutside({ waterC, airC, humidity, airSpeedMs, activity }, ranges)
  if (outside) return outside
  const pull = (saturationPressurePaAt(waterC) - humidity * saturationPressurePaAt(airC)) / 1000
  return known(((activity * pull * (0.089 + 0.0782 * airSpeedMs)) / latentAt(waterC)) * 3600)
}

/**
 * The same by the lift of moist air alone, for a room without draught.
 * Units: degC, share of saturation -> kg/(m2 h).
 * Valid: 0 to 50 degC where the air over the water is lighter than the room's; refused otherwise.
 * Source: Shah, natural convection: K rho_w (rho_r - rho_w)^(1/3) (W_w - W_r), K = 35, or 40 below 0.02 kg/m3 (from memory).
 * Exact to: arithmetic 0.01; nature 30 %.
 */
export function evaporationByLift(given: { waterC: number; airC: number; humidity: number }): Answer<number> {
  const { waterC, airC, humidity } = evaporationRanges
  const outside = firstOutside(given, { waterC, airC, humidity })
  if (outside) return outside
  const surface = moistAir(given.waterC, 1)
  const room = moistAir(given.airC, given.humidity)
  const liftKgM3 = room.density - surface.density
  const lift = { low: 0, high: 1, unit: 'kg/m3', source: 'air that is not lifted carries nothing away' }
  const still = firstOutside({ liftKgM3 }, { liftKgM3: lift })
  if (still) return still
  const factor = liftKgM3 > 0.02 ? 35 : 40
  return known(factor * surface.density * Math.cbrt(liftKgM3) * (surface.moisture - room.moisture))
}

/** Density of moist air in kg/m3 and kg of vapour on each kg of dry air, at 101 325 Pa. */
function moistAir(tempC: number, humidity: number): { density: number; moisture: number } {
  const vapour = humidity * saturationPressurePaAt(tempC)
  const T = tempC + zeroCelsiusK
  return {
    density: (101_325 - vapour) / (287.055 * T) + vapour / (461.52 * T),
    moisture: (0.62198 * vapour) / (101_325 - vapour)
  }
}

/**
 * Says how much heat evaporation takes from the water.
 * Units: kg/(m2 h), m2, degC -> W.
 * Valid: -10 to 10 kg/(m2 h), 0 to 10 000 m2, 0 to 50 degC.
 * Source: latent heat 2501 - 2.361 t kJ/kg (from memory).
 * Exact to: 0.1 % of steam tables between 0 and 50 degC.
 */
export function evaporationHeat(given: {
  rateKgM2H: number
  areaM2: number
  waterC: number
}): Answer<number> {
  const rateKgM2H = { low: -10, high: 10, unit: 'kg/(m2 h)', source: carrier }
  const { areaM2, waterC } = evaporationRanges
  const outside = firstOutside(given, { rateKgM2H, areaM2, waterC })
  return outside ?? known((given.rateKgM2H * given.areaM2 * latentAt(given.waterC)) / 3.6)
}
