import { type MgLAsN, type MgLAsNH3, mgPerMgN } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const anthonisen = 'Anthonisen, Loehr, Prakasam & Srinath 1976, J. Water Pollut. Control Fed. 48:835-852'
const temperature = { low: 0, high: 50, unit: 'degC', source: anthonisen } as const
const acidity = { low: 5, high: 10, unit: 'pH', source: anthonisen } as const
export const nitrousAcidRanges = {
  nitriteMgLAsN: { low: 0, high: 10_000, unit: 'mg N/L', source: 'dilute water, as in the derivation' },
  tempC: temperature,
  pH: acidity
} as const

export type NitrousAcid = Readonly<{ hno2MgL: number; pKa: number }>

/**
 * Says how much of the nitrite is free nitrous acid, which slows the filter's own bacteria.
 * Units: mg N/L, degC, pH -> mg HNO2/L and pKa.
 * Valid: 0 to 50 degC, pH 5 to 10.
 * Source: Anthonisen et al. 1976, J. Water Pollut. Control Fed. 48:835-852: Ka = exp(-2300/(273 + t)),
 *   HNO2 = 46/14 NO2-N/(1 + Ka 10^pH). Their printed form leaves the 1 out and, like this one, weighs the acid as the
 *   ion (46/14), on which their inhibition limits rest; weighed as HNO2 it would be 2.2 % more.
 * Exact to: 0.5 % of the printed form from pH 6 up (4.4 % at pH 5 and 0 degC); the constant itself within about 0.1 of others.
 */
export function nitrousAcid(given: {
  nitriteMgLAsN: MgLAsN
  tempC: number
  pH: number
}): Answer<NitrousAcid> {
  const outside = firstOutside(given, nitrousAcidRanges)
  if (outside) return outside
  const ka = Math.exp(-2300 / (273 + given.tempC))
  const hno2MgL = (mgPerMgN.NO2 * given.nitriteMgLAsN) / (1 + ka * 10 ** given.pH)
  return known({ hno2MgL, pKa: -Math.log10(ka) })
}

/**
 * The older way to free ammonia that nitrification papers use for their inhibition limits; for those limits only.
 * Units: mg N/L, degC, pH -> mg NH3/L.
 * Valid: 0 to 50 degC, pH 5 to 10.
 * Source: Anthonisen et al. 1976, as above: NH3 = 17/14 TAN 10^pH/(exp(6344/(273 + t)) + 10^pH).
 * Exact to: 0.5 % of values computed from the printed form; within 2 % of Emerson et al. 1975.
 */
export function freeAmmoniaAnthonisen(given: {
  tanMgLAsN: MgLAsN
  tempC: number
  pH: number
}): Answer<MgLAsNH3> {
  const { nitriteMgLAsN: tanMgLAsN, tempC, pH } = nitrousAcidRanges
  const outside = firstOutside(given, { tanMgLAsN, tempC, pH })
  if (outside) return outside
  const power = 10 ** given.pH
  return known((mgPerMgN.NH3 * given.tanMgLAsN * power) / (Math.exp(6344 / (273 + given.tempC)) + power))
}
