import { carbonateRanges, co2FromKh } from '../water/carbonate.ts'
import { changedFraction } from './carried.ts'
import { pHAt, tempAt } from './sourced.ts'
import { around, type TankFacts, within } from './tank-facts.ts'
import { type Derived, kept, type ProbesAt, unknown } from './toxic-ammonia.ts'

/** Carbonate hardness moves slowly; a test stands for so long. Common practice, no source. */
const khServesMs = 30 * 86_400_000
/** Without knowing the tap's KH, what a full change might move it by, dKH. Common practice, no source. */
const unknownTapDKh = 6

/**
 * Dissolved carbon dioxide at a moment, from the last KH test (or the profile's), pH and temperature.
 * Units: mg CO2/L.
 * Valid: as `co2FromKh`; the KH test at most 30 days old.
 * Source: Plummer & Busenberg 1982 constants.
 * Exact to: the span it answers; too high where other things than carbonate buffer the water.
 */
export function co2At(facts: TankFacts, probes: ProbesAt): Derived {
  const { atMs } = probes
  const kh = khAt(facts, atMs)
  const pH = pHAt(facts, probes.pH, atMs)
  const temp = tempAt(facts, probes.tempC, atMs)
  const from = {
    khDKh: kh === null || kh === 'too-old' ? null : kh.value,
    pH: pH?.value ?? null,
    tempC: temp?.value ?? null
  }
  if (kh === null) return unknown('no-kh-test', null, from)
  if (kh === 'too-old') return unknown('too-old', around(facts.kh, atMs).last?.atMs ?? null, from)
  if (pH === null) return unknown('no-ph', kh.asOfMs, from)
  if (temp === null) return unknown('no-temperature', kh.asOfMs, from)
  const acid = kept(pH, carbonateRanges.pH)
  const warmth = kept(temp, carbonateRanges.tempC)
  const gas = (khDKh: number, at: number): number | null => {
    const answer = co2FromKh({ khDKh, pH: at, tempC: warmth.value })
    return answer.ok ? answer.value.co2MgL : null
  }
  const value = gas(kh.value, acid.value)
  if (value === null) return unknown('out-of-range', kh.asOfMs, from)
  return {
    value,
    low: gas(kh.low, acid.high) ?? 0,
    high: gas(kh.high, acid.low) ?? value,
    estimated: true,
    asOfMs: kh.asOfMs,
    reason: kh.reason,
    from
  }
}

type Hardness = Readonly<{ value: number; low: number; high: number; asOfMs: number | null; reason: string }>

function khAt(facts: TankFacts, atMs: number): Hardness | 'too-old' | null {
  const { profile } = facts
  const base = around(facts.kh, atMs).last
  if (base === undefined) {
    const told = profile.khDKh
    if (told === undefined) return null
    return { value: told, low: Math.max(0, told - 1), high: told + 1, asOfMs: null, reason: 'from-profile' }
  }
  if (atMs - base.atMs > khServesMs) return 'too-old'
  let { value, low, high } = base
  const changes = within(facts.events, { fromMs: base.atMs, toMs: atMs }).filter(
    (event) => event.kind === 'water-changed'
  )
  for (const event of changes) {
    const share = changedFraction(event, profile.volumeL)
    const tap = profile.tap?.khDKh
    const fresh = tap ?? value
    const doubt = tap === undefined ? unknownTapDKh : 0.5
    low = Math.max(0, low * (1 - share) + (fresh - doubt) * share)
    high = high * (1 - share) + (fresh + doubt) * share
    value = value * (1 - share) + fresh * share
  }
  return {
    value,
    low,
    high,
    asOfMs: base.atMs,
    reason: changes.length > 0 ? 'carried-from-test' : 'from-test'
  }
}
