import { unionisedAmmoniaRanges, unionisedAmmoniaSpan } from '../water/unionised-ammonia.ts'
import { type Carried, carriedAmmonia } from './carried.ts'
import { type ProbeValue, pHAt, type Sourced, tempAt } from './sourced.ts'
import type { TankFacts } from './tank-facts.ts'

/** A computed value with its doubt and what it was made from; null with a named reason where it cannot be known. */
export type Derived = Readonly<{
  value: number | null
  low: number | null
  high: number | null
  estimated: boolean
  asOfMs: number | null
  reason: string
  from: Readonly<Record<string, string | number | null>>
}>

/** What the probes say at a moment; null where there is no probe. */
export type ProbesAt = Readonly<{ atMs: number; tempC: ProbeValue | null; pH: ProbeValue | null }>

/**
 * Toxic (un-ionised) ammonia at a moment: total ammonia carried from the last test, with the pH and temperature
 * of that moment.
 * Units: mg NH3/L.
 * Valid: as `carriedAmmonia` and `unionisedAmmonia`.
 * Source: Emerson et al. 1975; span from the kit's step, pH ±0.1 and ±0.5 K by a live probe, more without one.
 * Exact to: the span it answers.
 */
export function nh3At(facts: TankFacts, probes: ProbesAt): Derived {
  const ammonia = carriedAmmonia(facts, probes.atMs)
  const pH = pHAt(facts, probes.pH, probes.atMs)
  const temp = tempAt(facts, probes.tempC, probes.atMs)
  const from = made(ammonia, pH, temp)
  if (ammonia.value === null || ammonia.low === null || ammonia.high === null)
    return unknown(ammonia.reason, ammonia.asOfMs, from)
  if (pH === null) return unknown('no-ph', ammonia.asOfMs, from)
  if (temp === null) return unknown('no-temperature', ammonia.asOfMs, from)
  const span = unionisedAmmoniaSpan({
    tanMgLAsN: { value: ammonia.value, low: ammonia.low, high: ammonia.high },
    tempC: kept(temp, unionisedAmmoniaRanges.tempC),
    pH: kept(pH, unionisedAmmoniaRanges.pH)
  })
  if (!span.ok)
    return unknown(
      `${span.outOfRange.field === 'pH' ? 'ph' : 'temperature'}-out-of-range`,
      ammonia.asOfMs,
      from
    )
  return {
    value: span.value.value,
    low: span.value.low,
    high: span.value.high,
    estimated: ammonia.estimated || pH.from !== 'probe' || temp.from !== 'probe',
    asOfMs: ammonia.asOfMs,
    reason: ammonia.reason,
    from
  }
}

/** The span of a source; its ends, not its middle, are kept inside the range of the formula. */
export function kept(
  source: Sourced,
  range: Readonly<{ low: number; high: number }>
): Readonly<{ value: number; low: number; high: number }> {
  const { value, error } = source
  return {
    value,
    low: Math.min(value, Math.max(range.low, value - error)),
    high: Math.max(value, Math.min(range.high, value + error))
  }
}

const made = (ammonia: Carried, pH: Sourced | null, temp: Sourced | null): Derived['from'] => ({
  tanMgLAsN: ammonia.value,
  tanReason: ammonia.reason,
  pH: pH?.value ?? null,
  pHFrom: pH?.from ?? null,
  tempC: temp?.value ?? null,
  tempFrom: temp?.from ?? null
})

export const unknown = (reason: string, asOfMs: number | null, from: Derived['from']): Derived => ({
  value: null,
  low: null,
  high: null,
  estimated: false,
  asOfMs,
  reason,
  from
})
