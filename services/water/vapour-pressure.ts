import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

export const vapourRanges = {
  tempC: {
    low: 0,
    high: 50,
    unit: 'degC',
    source: 'USGS Office of Water Quality Memorandum 2011.03 (0 to 40 degC, checked against Magnus to 50)'
  }
} as const

/**
 * The pressure of water vapour over fresh water, as oxygen and carbon dioxide in moist air need it.
 * Units: degC -> atm.
 * Valid: 0 to 50 degC.
 * Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, as used in USGS OWQ 2011.03:
 *   ln P = 11.8571 - 3840.70/T - 216961/T^2 (coefficients read in public codes).
 * Exact to: 0.3 % of the Magnus form.
 */
export function vapourPressureAtm(tempC: number): Answer<number> {
  return firstOutside({ tempC }, vapourRanges) ?? known(vapourPressureAtmAt(tempC))
}

/**
 * The same without range check, for formulas that have checked already.
 * Units: degC -> atm.
 * Valid: 0 to 50 degC, by the caller's word.
 * Source: Benson & Krause 1984, as above.
 * Exact to: as above.
 */
export function vapourPressureAtmAt(tempC: number): number {
  const T = tempC + zeroCelsiusK
  return Math.exp(11.8571 - 3840.7 / T - 216961 / (T * T))
}

/**
 * The pressure of water vapour over a flat water surface, as evaporation needs it.
 * Units: degC -> Pa.
 * Valid: 0 to 50 degC.
 * Source: Alduchov & Eskridge 1996, J. Appl. Meteorol. 35:601-609, Magnus form (coefficients from memory):
 *   610.94 exp(17.625 t/(t + 243.04)).
 * Exact to: 0.4 % (their claim between -40 and 50 degC).
 */
export function saturationPressurePa(tempC: number): Answer<number> {
  return firstOutside({ tempC }, vapourRanges) ?? known(saturationPressurePaAt(tempC))
}

/**
 * The same without range check, for formulas that have checked already.
 * Units: degC -> Pa.
 * Valid: 0 to 50 degC, by the caller's word.
 * Source: Alduchov & Eskridge 1996, as above.
 * Exact to: as above.
 */
export function saturationPressurePaAt(tempC: number): number {
  return 610.94 * Math.exp((17.625 * tempC) / (tempC + 243.04))
}
