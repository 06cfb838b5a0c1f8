import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'
import { vapourPressureAtmAt } from './vapour-pressure.ts'

const bensonKrause =
  'Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, as used by USGS OWQ 2011.03 and APHA 4500-O'
export const oxygenRanges = {
  tempC: { low: 0, high: 40, unit: 'degC', source: bensonKrause },
  salinityGkg: { low: 0, high: 40, unit: 'g/kg', source: bensonKrause },
  pressureAtm: { low: 0.5, high: 1.1, unit: 'atm', source: bensonKrause }
} as const
export const altitudeRange = {
  low: -450,
  high: 5500,
  unit: 'm',
  source: 'standard atmosphere, exp(5.25 ln(1 - h/44300)), lowest shore to highest town'
} as const

/**
 * Says how much oxygen water holds at rest with the air: an upper bound for a tank without surplus plants.
 * Units: degC, g/kg, atm of local pressure (never reduced to sea level) -> mg/L.
 * Valid: 0 to 40 degC, 0 to 40 g/kg, 0.5 to 1.1 atm.
 * Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620-632; USGS Office of Water Quality 2011.03 (coefficients read
 *   in nine codes).
 * Exact to: 0.0015 mg/L of an independent fit to the same measurements in fresh water, 0.01 of EN 25814.
 */
export function oxygenSaturation(given: {
  tempC: number
  salinityGkg?: number | undefined
  pressureAtm?: number | undefined
}): Answer<number> {
  const { tempC, salinityGkg = 0, pressureAtm = 1 } = given
  const outside = firstOutside({ tempC, salinityGkg, pressureAtm }, oxygenRanges)
  if (outside) return outside
  const T = tempC + zeroCelsiusK
  const fresh = -139.34411 + 1.575701e5 / T - 6.642308e7 / T ** 2 + 1.2438e10 / T ** 3 - 8.621949e11 / T ** 4
  const salt = salinityGkg * (1.7674e-2 - 10.754 / T + 2140.7 / T ** 2)
  const vapour = vapourPressureAtmAt(tempC)
  const theta = 0.000975 - 1.426e-5 * tempC + 6.436e-8 * tempC ** 2
  const thin = ((1 - vapour / pressureAtm) * (1 - theta * pressureAtm)) / ((1 - vapour) * (1 - theta))
  return known(Math.exp(fresh - salt) * pressureAtm * thin)
}

/**
 * Says how much thinner the air is at a height, for those who have no barometer.
 * Units: m above the sea -> atm.
 * Valid: -450 to 5500 m.
 * Source: standard atmosphere, exp(5.25 ln(1 - h/44300)) (quoted in public codes).
 * Exact to: 0.001 atm; weather moves it by 0.03.
 */
export function pressureAtAltitude(altitudeM: number): Answer<number> {
  return firstOutside({ altitudeM }, { altitudeM: altitudeRange }) ?? known((1 - altitudeM / 44300) ** 5.25)
}
