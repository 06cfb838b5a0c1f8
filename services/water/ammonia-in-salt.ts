import { type MgLAsN, zeroCelsiusK } from './conversions.ts'
import { splitAmmonia, type UnionisedAmmonia, unionisedAmmoniaRanges } from './unionised-ammonia.ts'
import { type Answer, firstOutside, known, onward } from './valid-range.ts'

const cleggWhitfield = 'Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403-2421, eq. 18'
export const saltRanges = {
  tempC: { low: -2, high: 40, unit: 'degC', source: cleggWhitfield },
  salinityGkg: { low: 0, high: 40, unit: 'g/kg', source: cleggWhitfield }
} as const
export const ionsRanges = {
  tempC: unionisedAmmoniaRanges.tempC,
  ionicStrengthMolL: { low: 0, high: 0.1, unit: 'mol/L', source: 'Davies equation (from memory)' }
} as const
const conductivityRange = {
  low: 0,
  high: 5000,
  unit: 'uS/cm',
  source: 'Griffin & Jurinak 1973, Soil Sci. 116:26-30, fresh waters (from memory)'
}

/**
 * The acid constant of ammonia in salty water. It belongs to a pH on the total or free hydrogen-ion scale of marine
 * chemistry: a glass electrode set with ordinary buffers reads another scale, on which salt moves the constant up.
 * Units: degC, g/kg -> pKa.
 * Valid: -2 to 40 degC, 0 to 40 g/kg, pH on the total or free scale.
 * Source: Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403-2421, eq. 18 (coefficients read in five codes).
 * Exact to: 0.0005 of values computed from the printed form.
 */
export function ammoniaPKaInSalt(given: { tempC: number; salinityGkg: number }): Answer<number> {
  const outside = firstOutside(given, saltRanges)
  if (outside) return outside
  const T = given.tempC + zeroCelsiusK
  const S = given.salinityGkg
  const rootT = Math.sqrt(T)
  return known(
    9.244605 -
      2729.33 * (1 / 298.15 - 1 / T) +
      (0.04203362 - 11.24742 / T) * S ** 0.25 +
      (-13.6416 + 1.176949 * rootT - 0.02860785 * T + 545.4834 / T) * S ** 0.5 +
      (-0.1462507 + 0.0090226468 * rootT - 0.0001471361 * T + 10.5425 / T) * S ** 1.5 +
      (0.004669309 - 0.0001691742 * rootT - 0.5677934 / T) * S ** 2 +
      (-2.354039e-5 + 0.009698623 / T) * S ** 2.5
  )
}

/**
 * Says how much of the total ammonia is the toxic kind in salty water, for a pH on the total or free scale.
 * Units: mg N/L, degC, pH, g/kg -> share 0 to 1, mg NH3/L, mg N/L.
 * Valid: 0 to 40 degC, pH 5 to 10 on the total or free scale, 0 to 40 g/kg.
 * Source: Clegg & Whitfield 1995, as above. For fresh water Emerson et al. 1975 is the headline.
 * Exact to: the constant, 0.0005.
 */
export function unionisedAmmoniaInSalt(given: {
  tanMgLAsN: MgLAsN
  tempC: number
  pH: number
  salinityGkg: number
}): Answer<UnionisedAmmonia> {
  const { tanMgLAsN, pH } = unionisedAmmoniaRanges
  const tempC = { ...saltRanges.tempC, low: 0 }
  const outside = firstOutside(given, { tanMgLAsN, tempC, pH, salinityGkg: saltRanges.salinityGkg })
  if (outside) return outside
  return onward(ammoniaPKaInSalt(given), (pKa) => splitAmmonia({ ...given, pKa }))
}

/**
 * The acid constant of ammonia for a glass electrode set with ordinary buffers, in water with some ions.
 * Units: degC, mol/L of ionic strength -> pKa.
 * Valid: 0 to 50 degC, 0 to 0.1 mol/L, pH as an activity (ordinary buffers).
 * Source: Emerson et al. 1975 with the activity of NH4+ after Davies (from memory):
 *   pKa + 0.509 (sqrt I/(1 + sqrt I) - 0.3 I).
 * Exact to: 0.3 % of the share of NH3, computed.
 */
export function ammoniaPKaWithIons(given: { tempC: number; ionicStrengthMolL: number }): Answer<number> {
  const outside = firstOutside(given, ionsRanges)
  if (outside) return outside
  const rootI = Math.sqrt(given.ionicStrengthMolL)
  const davies = 0.509 * (rootI / (1 + rootI) - 0.3 * given.ionicStrengthMolL)
  return known(0.09018 + 2729.92 / (given.tempC + zeroCelsiusK) + davies)
}

/**
 * Estimates the ionic strength of fresh water from its conductivity.
 * Units: uS/cm at 25 degC -> mol/L.
 * Valid: 0 to 5000 uS/cm.
 * Source: Griffin & Jurinak 1973, Soil Sci. 116:26-30: 1.27e-5 EC (from memory).
 * Exact to: some 10 to 25 %, by the kind of salts.
 */
export function ionicStrengthFromConductivity(conductivityUScm: number): Answer<number> {
  const outside = firstOutside({ conductivityUScm }, { conductivityUScm: conductivityRange })
  return outside ?? known(1.27e-5 * conductivityUScm)
}
