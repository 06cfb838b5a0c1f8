/** What a litre of tank water holds at 25 °C, J/(L K): 4.181 kJ/(kg K) times 0.997 kg/L (from memory). */
export const heatPerLitreK = 4168

/** Latent heat of water leaving a surface of t degC, J/kg: 2501 - 2.361 t kJ/kg (from memory). */
const latentJPerKg = (tempC: number): number => (2501 - 2.361 * tempC) * 1000

/** Water vapour at saturation, kPa (Magnus form of Alduchov and Eskridge 1996, from memory). */
export const saturatedKPa = (tempC: number): number => 0.61094 * Math.exp((17.625 * tempC) / (tempC + 243.04))

/**
 * How warm water gets that is heated by a steady power in a room of steady temperature.
 * Units: degC, s, W, J/K, W/K.
 * Valid: well mixed water; a loss of zero means no loss at all.
 * Source: Newton's law of cooling, C dT/dt = P - UA (T - Ta), solved in closed form.
 * Exact to: rounding of double numbers, however long the step.
 */
export function warmed(
  water: Readonly<{
    tempC: number
    roomC: number
    capacityJPerK: number
    lossWPerK: number
    powerW: number
  }>,
  seconds: number
): number {
  const { tempC, roomC, capacityJPerK, lossWPerK, powerW } = water
  if (lossWPerK === 0) return tempC + (powerW * seconds) / capacityJPerK
  const restC = roomC + powerW / lossWPerK
  return restC + (tempC - restC) * Math.exp((-lossWPerK * seconds) / capacityJPerK)
}

/**
 * Water that leaves an open surface into still air.
 * Units: kg/(m2 h); humidity and stillness as fractions.
 * Valid: water warmer than the dew point of the room, no wind; else nothing leaves.
 * Source: Carrier's formula (pw - pa)(0.089 + 0.0782 V)/Y with V = 0, SI factors from memory; the factor 0.74 for
 * undisturbed water after Smith, Lof and Jones (abstract).
 */
export function evaporationKgPerM2H(
  given: Readonly<{ waterC: number; airC: number; humidityFrac: number; stillnessFrac: number }>
): number {
  const gapKPa = saturatedKPa(given.waterC) - given.humidityFrac * saturatedKPa(given.airC)
  if (gapKPa <= 0) return 0
  return ((0.089 * gapKPa) / (latentJPerKg(given.waterC) / 1000)) * 3600 * given.stillnessFrac
}

/** Power that evaporation takes from the water. Units: W. */
export const evaporationW = (kgPerH: number, waterC: number): number => (kgPerH * latentJPerKg(waterC)) / 3600
