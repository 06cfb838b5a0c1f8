import { type MgLAsN, type MgLAsNH3, mgPerMgN, zeroCelsiusK } from './conversions.ts'
import type { Span } from './uncertainty.ts'
import { type Answer, firstOutside, known, type Refusal, refused, type ValidRange } from './valid-range.ts'

const emerson = 'Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383'
export const unionisedAmmoniaRanges = {
  tanMgLAsN: { low: 0, high: 10_000, unit: 'mg N/L', source: 'dilute water, as in the derivation' },
  tempC: {
    low: 0,
    high: 50,
    unit: 'degC',
    source: `${emerson}; measured 0 to 50 degC, table printed to 30`
  },
  pH: {
    low: 5,
    high: 10,
    unit: 'pH',
    source: `${emerson}; table printed for pH 6 to 10, the equilibrium holds to 5`
  }
} as const

/** Below this pH next to nothing of the ammonia is free; it is locked as ammonium, not gone. */
export const lockedBelowPH = 6

export type UnionisedAmmonia = Readonly<{
  /** Share of total ammonia that is NH3, 0 to 1. */
  fraction: number
  pKa: number
  nh3MgL: MgLAsNH3
  nh3MgLAsN: MgLAsN
  /** True below pH 6: practically none is toxic now, all of it comes back when pH rises. */
  locked: boolean
}>

/** The acid constant of ammonium without range check, for those who have checked already. */
function pKaAt(tempC: number): number {
  return 0.09018 + 2729.92 / (tempC + zeroCelsiusK)
}

/** The exponential is several times faster than a power of ten, and the same to the fourteenth figure. */
function fractionAt(pKa: number, pH: number): number {
  return 1 / (1 + Math.exp((pKa - pH) * Math.LN10))
}

function holds(span: Span, range: ValidRange): boolean {
  return span.low >= range.low && span.low <= span.value && span.value <= span.high && span.high <= range.high
}

/** Names the number of the span that is to blame: an end outside the range, or a middle outside its own ends. */
function leaves(field: string, span: Span, range: ValidRange): Refusal {
  if (!(span.low >= range.low)) return refused(field, span.low, range)
  if (!(span.high <= range.high)) return refused(field, span.high, range)
  const { low, high } = span
  return refused(field, span.value, { low, high, unit: range.unit, source: 'its own low and high' })
}

/**
 * Says how much of the total ammonia is the toxic, un-ionised kind.
 * Units: total ammonia in mg N/L, degC, pH (glass electrode) -> share 0 to 1, mg NH3/L, mg N/L.
 * Valid: 0 to 50 degC, pH 5 to 10, zero ionic strength (below 1 g/kg salt it reads at most some 12 % too high).
 * Source: Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383: pKa = 0.09018 + 2729.92/T.
 * Exact to: 0.7 % of the printed table, which was computed with T = t + 273.2; here T = t + 273.15.
 */
export function unionisedAmmonia(given: {
  tanMgLAsN: MgLAsN
  tempC: number
  pH: number
}): Answer<UnionisedAmmonia> {
  const outside = firstOutside(given, unionisedAmmoniaRanges)
  if (outside) return outside
  return known(splitAmmonia({ ...given, pKa: pKaAt(given.tempC) }))
}

/**
 * Splits total ammonia by any acid constant, without range check, for formulas that have checked already.
 * Units: pKa, pH, mg N/L -> share 0 to 1, mg NH3/L, mg N/L.
 * Valid: any pKa and pH of water, by the caller's word.
 * Source: law of mass action, 1/(1 + 10^(pKa - pH)).
 * Exact to: double precision.
 */
export function splitAmmonia(given: { pKa: number; pH: number; tanMgLAsN: MgLAsN }): UnionisedAmmonia {
  const fraction = fractionAt(given.pKa, given.pH)
  const nh3MgLAsN = fraction * given.tanMgLAsN
  return {
    fraction,
    pKa: given.pKa,
    nh3MgL: nh3MgLAsN * mgPerMgN.NH3,
    nh3MgLAsN,
    locked: given.pH < lockedBelowPH
  }
}

/**
 * The same with its errors: toxic ammonia between which bounds. Because it rises with total ammonia, with pH and
 * with temperature, the lowest corner and the highest corner of the errors are the bounds.
 * Units: spans of mg N/L, pH, degC -> span of mg NH3/L.
 * Valid: as `unionisedAmmonia`, for the low and high ends too; an end outside takes the answer with it.
 * Source: Emerson et al. 1975 as above; interval arithmetic by vertices.
 * Exact to: equal to the general way of carrying errors, bit for bit.
 */
export function unionisedAmmoniaSpan(given: { tanMgLAsN: Span; tempC: Span; pH: Span }): Answer<Span> {
  const { tanMgLAsN, tempC, pH } = given
  const ranges = unionisedAmmoniaRanges
  if (!holds(tanMgLAsN, ranges.tanMgLAsN)) return leaves('tanMgLAsN', tanMgLAsN, ranges.tanMgLAsN)
  if (!holds(tempC, ranges.tempC)) return leaves('tempC', tempC, ranges.tempC)
  if (!holds(pH, ranges.pH)) return leaves('pH', pH, ranges.pH)
  const value = fractionAt(pKaAt(tempC.value), pH.value) * tanMgLAsN.value * mgPerMgN.NH3
  const low = fractionAt(pKaAt(tempC.low), pH.low) * tanMgLAsN.low * mgPerMgN.NH3
  const high = fractionAt(pKaAt(tempC.high), pH.high) * tanMgLAsN.high * mgPerMgN.NH3
  return known({ value, low, high })
}

/**
 * Says how much total ammonia brings the toxic kind to a given limit.
 * Units: mg NH3/L, degC, pH -> mg N/L of total ammonia.
 * Valid: as `unionisedAmmonia`; answers out of range where even 10 000 mg N/L would not reach the limit.
 * Source: Emerson et al. 1975, turned round.
 * Exact to: double precision against `unionisedAmmonia`.
 */
export function tanForNh3(given: { nh3MgL: MgLAsNH3; tempC: number; pH: number }): Answer<MgLAsN> {
  const tanMgLAsN = given.nh3MgL / mgPerMgN.NH3 / fractionAt(pKaAt(given.tempC), given.pH)
  const outside = firstOutside(
    { tempC: given.tempC, pH: given.pH, tanMgLAsN },
    {
      tempC: unionisedAmmoniaRanges.tempC,
      pH: unionisedAmmoniaRanges.pH,
      tanMgLAsN: unionisedAmmoniaRanges.tanMgLAsN
    }
  )
  return outside ?? known(tanMgLAsN)
}
