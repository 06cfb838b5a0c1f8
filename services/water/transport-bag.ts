import { carbonateRanges, phFromCo2 } from './carbonate.ts'
import type { MgLAsN, MgLAsNH3 } from './conversions.ts'
import { molarMass } from './molar-masses.ts'
import { splitAmmonia, unionisedAmmonia } from './unionised-ammonia.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const bagSource =
  'oxygen used = load x rate x time; carbon dioxide 0.9 mol per mol of oxygen (Timmons & Ebeling, from memory)'
export const bagRanges = {
  loadGPerL: { low: 0, high: 500, unit: 'g fish/L', source: 'Amend et al. 1982: up to 180 g/L' },
  oxygenMgPerGH: {
    low: 0,
    high: 3,
    unit: 'mg/(g h)',
    source: 'Brett & Zala 1975; Zakes et al.: 0.13 to 0.37'
  },
  tanMgPerKgH: { low: 0, high: 200, unit: 'mg N/(kg h)', source: 'Brett & Zala 1975: 8 to 35' },
  hours: { low: 0, high: 96, unit: 'h', source: bagSource },
  khDKh: carbonateRanges.khDKh,
  tempC: carbonateRanges.tempC,
  openPH: { low: 6, high: 10, unit: 'pH', source: 'pH once the carbon dioxide has left' }
} as const
/** Above this the bag must not stand open with the fish in it. Source: a working choice, half the emergency tier. */
export const noDripAboveMgL = 0.1

export type TransportBag = Readonly<{
  oxygenUsedMgL: number
  co2MgL: number
  pHClosed: number
  tanMgLAsN: MgLAsN
  nh3ClosedMgL: MgLAsNH3
  nh3OpenedMgL: MgLAsNH3
  /** False: no dripping in the open bag, match temperature, move the fish, discard the water. */
  mayDrip: boolean
}>

/**
 * Says what the water of a closed bag has become, and what opening it does: gas leaves, pH jumps, ammonia turns toxic.
 * Units: g/L, mg O2/(g h), mg N/(kg h), h, dKH, degC, pH after opening -> mg/L, pH.
 * Valid: up to 500 g/L and 96 h as far as the carbon dioxide stays below what water can hold and pH above 5.
 * Source: products of load, rate and time; carbon dioxide 0.9 mol per mol O2; pH by Plummer & Busenberg 1982, NH3 by
 *   Emerson et al. 1975.
 * Exact to: 2 % of values computed step by step; nature a factor of two.
 */
export function transportBag(given: {
  loadGPerL: number
  oxygenMgPerGH: number
  tanMgPerKgH: number
  hours: number
  khDKh: number
  tempC: number
  openPH: number
}): Answer<TransportBag> {
  const outside = firstOutside(given, bagRanges)
  if (outside) return outside
  const { loadGPerL, oxygenMgPerGH, tanMgPerKgH, hours, khDKh, tempC, openPH } = given
  const oxygenUsedMgL = loadGPerL * oxygenMgPerGH * hours
  const co2MgL = (oxygenUsedMgL * 0.9 * molarMass.CO2) / molarMass.O2
  const pHClosed = phFromCo2({ khDKh, co2MgL, tempC })
  if (!pHClosed.ok) return pHClosed
  const tanMgLAsN = (loadGPerL * tanMgPerKgH * hours) / 1000
  const closed = unionisedAmmonia({ tanMgLAsN, tempC, pH: pHClosed.value })
  if (!closed.ok) return closed
  const nh3OpenedMgL = splitAmmonia({ pKa: closed.value.pKa, pH: openPH, tanMgLAsN }).nh3MgL
  return known({
    oxygenUsedMgL,
    co2MgL,
    pHClosed: pHClosed.value,
    tanMgLAsN,
    nh3ClosedMgL: closed.value.nh3MgL,
    nh3OpenedMgL,
    mayDrip: nh3OpenedMgL <= noDripAboveMgL
  })
}
