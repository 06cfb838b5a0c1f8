import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known, type ValidRange } from './valid-range.ts'

const gasConstant = 8.314462618
const warmth: ValidRange = {
  low: 5,
  high: 35,
  unit: 'degC',
  source: 'rates follow Arrhenius between about 5 and 35 degC and fall above (from memory)'
}
const dissolved = (unit: string): ValidRange => ({ low: 0, high: 10_000, unit, source: 'Monod 1949 form' })
export const growthRanges = {
  substrateMgLAsN: dissolved('mg N/L'),
  tempC: { ...warmth, source: 'US EPA 1975 and 1993, Nitrogen Control manuals (0.47 and 1.3 from memory)' },
  oxygenMgL: { low: 0, high: 30, unit: 'mg/L', source: 'US EPA 1975 and 1993, Nitrogen Control manuals' },
  pH: {
    low: 6,
    high: 8,
    unit: 'pH',
    source: 'US EPA pH term: falls below 7.2, flat to 8, none left below 6.0'
  }
} as const
const arrheniusRanges = {
  tempC: warmth,
  referenceC: warmth,
  activationKJ: { low: 0, high: 200, unit: 'kJ/mol', source: 'Hellinga et al. 1998 use 44 and 68' }
}
const monodRanges = {
  substrate: dissolved('mg/L'),
  half: { low: 1e-6, high: 10_000, unit: 'mg/L', source: 'Monod 1949 form' }
}
const rateRange = { low: 1e-6, high: 100, unit: '1/d', source: 'definition of the doubling time' }

/** Activation energies of ammonia and nitrite oxidisers. Source: Hellinga et al. 1998, through Vannecke & Volcke. */
export const activationKJ = { aob: 68, nob: 44 } as const

/**
 * Says how much faster bacteria grow at one temperature than at another.
 * Units: degC, degC, kJ/mol -> ratio.
 * Valid: 5 to 35 degC both.
 * Source: Hellinga et al. 1998 through the supplement of Vannecke & Volcke: exp(Ea (T - Tr)/(R T Tr)).
 * Exact to: 0.002 of values computed with R = 8.31.
 */
export function growthRatio(given: {
  tempC: number
  referenceC: number
  activationKJ: number
}): Answer<number> {
  const outside = firstOutside(given, arrheniusRanges)
  if (outside) return outside
  const T = given.tempC + zeroCelsiusK
  const Tr = given.referenceC + zeroCelsiusK
  return known(Math.exp((given.activationKJ * 1000 * (T - Tr)) / (gasConstant * T * Tr)))
}

/**
 * Says what share of its full speed a process reaches with so much to feed on.
 * Units: mg/L both -> share 0 to 1.
 * Valid: 0 to 10 000 mg/L, half-saturation above 0.
 * Source: Monod 1949, Annu. Rev. Microbiol. 3:371-394: S/(K + S).
 * Exact to: double precision.
 */
export function monodShare(given: { substrate: number; half: number }): Answer<number> {
  return firstOutside(given, monodRanges) ?? known(given.substrate / (given.half + given.substrate))
}

/**
 * Says what share of its full speed nitrification keeps at so low a pH.
 * Units: pH -> share 0 to 1.
 * Valid: pH 6 to 8.
 * Source: US EPA Nitrogen Control manual 1975 and Metcalf & Eddy: 1 - 0.833 (7.2 - pH) below 7.2, 1 to 8 (read in code).
 * Exact to: the line as given; it is exactly 0.0004 at pH 6 and would go negative just below.
 */
export function acidityShare(pH: number): Answer<number> {
  return firstOutside({ pH }, { pH: growthRanges.pH }) ?? known(pH >= 7.2 ? 1 : 1 - 0.833 * (7.2 - pH))
}

/**
 * The growth rate of the ammonia oxidisers as design manuals compute it.
 * Units: mg N/L, degC, mg O2/L, pH -> 1/d.
 * Valid: 5 to 35 degC, pH 6 to 8.
 * Source: US EPA Nitrogen Control manuals 1975 and 1993: 0.47 exp(0.098 (t - 15)), K_N = 10^(0.051 t - 1.158),
 *   K_O = 1.3, pH term as above (0.47 and 1.3 from memory).
 * Exact to: 0.5 % of values computed from the same form.
 */
export function nitrifierGrowthRate(given: {
  substrateMgLAsN: number
  tempC: number
  oxygenMgL: number
  pH: number
}): Answer<number> {
  const outside = firstOutside(given, growthRanges)
  if (outside) return outside
  const { substrateMgLAsN, tempC, oxygenMgL, pH } = given
  const half = 10 ** (0.051 * tempC - 1.158)
  const acidity = pH >= 7.2 ? 1 : 1 - 0.833 * (7.2 - pH)
  const feeding = substrateMgLAsN / (half + substrateMgLAsN)
  const breathing = oxygenMgL / (1.3 + oxygenMgL)
  return known(0.47 * Math.exp(0.098 * (tempC - 15)) * feeding * breathing * acidity)
}

/**
 * Says how long a population takes to double.
 * Units: 1/d of net growth -> h.
 * Valid: above 0 to 100 per day.
 * Source: definition, ln 2/mu.
 * Exact to: double precision.
 */
export function doublingHours(netGrowthPerDay: number): Answer<number> {
  return (
    firstOutside({ netGrowthPerDay }, { netGrowthPerDay: rateRange }) ??
    known((24 * Math.LN2) / netGrowthPerDay)
  )
}
