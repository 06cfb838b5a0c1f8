import type { MgLAsN } from './conversions.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const epa2013 =
  'EPA 822-R-13-001, 2013, Aquatic Life Ambient Water Quality Criteria for Ammonia - Freshwater, tables for pH 6.5 to 9, 0 to 30 degC'
const epa1999 = 'EPA 822-R-99-014, 1999 Update of Ambient Water Quality Criteria for Ammonia'
export const criteriaRanges = {
  tempC: { low: 0, high: 30, unit: 'degC', source: epa2013 },
  pH: { low: 6.5, high: 9, unit: 'pH', source: epa2013 }
} as const

/** The shape both editions share: one share that falls with pH, one that rises. */
function twoShares(given: { pH: number; pivot: number; low: number; high: number }): number {
  return given.low / (1 + 10 ** (given.pivot - given.pH)) + given.high / (1 + 10 ** (given.pH - given.pivot))
}

export type AmmoniaCriteria = Readonly<{
  /** Highest one-hour mean where trout and salmon are absent. */
  acuteMgLAsN: MgLAsN
  /** The same where they are present. */
  acuteWithSalmonidsMgLAsN: MgLAsN
  /** Highest 30-day mean. */
  chronicMgLAsN: MgLAsN
  /** No 4-day mean within the 30 days above this. */
  chronicFourDayMgLAsN: MgLAsN
}>

/**
 * The total ammonia that waters with wild communities may hold, mussels included. Not a target for a tank.
 * Units: degC, pH -> mg N/L of total ammonia.
 * Valid: 0 to 30 degC, pH 6.5 to 9.
 * Source: EPA 822-R-13-001, 2013 (equations read through Oregon DEQ Tables 30a-c).
 * Exact to: the printed two figures of every table value we could read.
 */
export function ammoniaCriteria(given: { tempC: number; pH: number }): Answer<AmmoniaCriteria> {
  const outside = firstOutside(given, criteriaRanges)
  if (outside) return outside
  const { tempC, pH } = given
  const acuteShape = 0.7249 * twoShares({ pH, pivot: 7.204, low: 0.0114, high: 1.6181 })
  const warmth = 23.12 * 10 ** (0.036 * (20 - tempC))
  const trout = twoShares({ pH, pivot: 7.204, low: 0.275, high: 39.0 })
  const chronicShape = 0.8876 * twoShares({ pH, pivot: 7.688, low: 0.0278, high: 1.1994 })
  const chronicMgLAsN = chronicShape * 2.126 * 10 ** (0.028 * (20 - Math.max(tempC, 7)))
  return known({
    acuteMgLAsN: acuteShape * Math.min(51.93, warmth),
    acuteWithSalmonidsMgLAsN: Math.min(trout, acuteShape * warmth),
    chronicMgLAsN,
    chronicFourDayMgLAsN: 2.5 * chronicMgLAsN
  })
}

export type AmmoniaCriteria1999 = Readonly<{
  acuteMgLAsN: MgLAsN
  acuteWithSalmonidsMgLAsN: MgLAsN
  chronicEarlyLifeMgLAsN: MgLAsN
  chronicMgLAsN: MgLAsN
}>

/**
 * The older edition of the same criteria, which many rules still quote. Not to be mixed with the one of 2013.
 * Units: degC, pH -> mg N/L of total ammonia.
 * Valid: 0 to 30 degC, pH 6.5 to 9.
 * Source: EPA 822-R-99-014, 1999 (equations as printed in South Dakota rule 74:51:01, Appendix A).
 * Exact to: 0.3 % of values computed from the printed equations.
 */
export function ammoniaCriteria1999(given: { tempC: number; pH: number }): Answer<AmmoniaCriteria1999> {
  const { tempC: t, pH: p } = criteriaRanges
  const ranges = { tempC: { ...t, source: epa1999 }, pH: { ...p, source: epa1999 } }
  const outside = firstOutside(given, ranges)
  if (outside) return outside
  const { tempC, pH } = given
  const chronicShape = twoShares({ pH, pivot: 7.688, low: 0.0577, high: 2.487 })
  return known({
    acuteMgLAsN: twoShares({ pH, pivot: 7.204, low: 0.411, high: 58.4 }),
    acuteWithSalmonidsMgLAsN: twoShares({ pH, pivot: 7.204, low: 0.275, high: 39.0 }),
    chronicEarlyLifeMgLAsN: chronicShape * Math.min(2.85, 1.45 * 10 ** (0.028 * (25 - tempC))),
    chronicMgLAsN: chronicShape * 1.45 * 10 ** (0.028 * (25 - Math.max(tempC, 7)))
  })
}
