import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const source = 'Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040 (0 to 90 degC)'
export const carbonateTempRange = { low: 0, high: 50, unit: 'degC', source } as const

/** log10 K = a + bT + c/T + d log10 T + e/T^2, T in kelvin; coefficients read in four independent codes. */
type Coefficients = readonly [a: number, b: number, c: number, d: number, e: number]
const k1: Coefficients = [-356.3094, -0.06091964, 21834.37, 126.8339, -1684915]
const k2: Coefficients = [-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9]
const henry: Coefficients = [108.3865, 0.01985076, -6919.53, -40.45154, 669365]
const water: Coefficients = [-283.971, -0.05069842, 13323.0, 102.24447, -1119669]

function logK([a, b, c, d, e]: Coefficients, T: number): number {
  return a + b * T + c / T + d * Math.log10(T) + e / (T * T)
}

export type CarbonateConstants = Readonly<{ pK1: number; pK2: number; pKH: number; pKw: number }>

/**
 * The constants of carbonic acid, of carbon dioxide's solubility and of water itself.
 * Units: degC -> negative decimal logarithms; the solubility in mol/(L atm).
 * Valid: 0 to 50 degC here (0 to 90 in the source), ionic strength zero.
 * Source: Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040.
 * Exact to: 0.003 of Harned & Davis 1943 and Harned & Scholes 1941 between 0 and 30 degC.
 */
export function carbonateConstants(tempC: number): Answer<CarbonateConstants> {
  const outside = firstOutside({ tempC }, { tempC: carbonateTempRange })
  if (outside) return outside
  const T = tempC + zeroCelsiusK
  return known({ pK1: -logK(k1, T), pK2: -logK(k2, T), pKH: -logK(henry, T), pKw: -logK(water, T) })
}

/**
 * The same as equilibrium constants, without range check, for formulas that have checked already.
 * Units: degC -> mol/L, the solubility in mol/(L atm), water in (mol/L)^2.
 * Valid: 0 to 50 degC, by the caller's word.
 * Source: Plummer & Busenberg 1982.
 * Exact to: as above.
 */
export function equilibriumAt(tempC: number): { K1: number; K2: number; KH: number; Kw: number } {
  const T = tempC + zeroCelsiusK
  return { K1: 10 ** logK(k1, T), K2: 10 ** logK(k2, T), KH: 10 ** logK(henry, T), Kw: 10 ** logK(water, T) }
}

/**
 * The solubility of carbon dioxide in fresh water by another author, kept beside to show how far two sources differ.
 * Units: degC -> negative decimal logarithm of mol/(L atm).
 * Valid: 0 to 40 degC, no salt.
 * Source: Weiss 1974, Mar. Chem. 2:203-215, at salinity 0: ln K0 = -60.2409 + 93.4517 (100/T) + 23.3585 ln(T/100).
 * Exact to: 0.002 of Plummer & Busenberg 1982 from 0 to 35 degC, 0.0031 at 40.
 */
export function weissPKH(tempC: number): Answer<number> {
  const range = { low: 0, high: 40, unit: 'degC', source: 'Weiss 1974, Mar. Chem. 2:203-215' }
  const outside = firstOutside({ tempC }, { tempC: range })
  if (outside) return outside
  const hundreds = (tempC + zeroCelsiusK) / 100
  return known(-(-60.2409 + 93.4517 / hundreds + 23.3585 * Math.log(hundreds)) / Math.LN10)
}
