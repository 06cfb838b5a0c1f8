import type { TestValue } from '../tank/test-value.ts'
import { around, type TankFacts } from './tank-facts.ts'

/** What a probe last said, and when. */
export type ProbeValue = Readonly<{ value: number; atMs: number }>

/** A value with where it came from and how far it is to be trusted. */
export type Sourced = Readonly<{
  value: number
  error: number
  atMs: number
  from: 'probe' | 'probe-a-while-ago' | 'typed' | 'setpoint'
}>

const minuteMs = 60_000
const dayMs = 86_400_000
const probeIsLiveMs = 15 * minuteMs
/** So long the last word of a probe serves where nothing newer is known. */
export const probeServesMs = dayMs
const typedServesMs = 7 * dayMs
/** A live pH probe and kit readings ±0.1 and ±0.3; a live thermometer ±0.5 K. Common practice, no source. */
const errors = {
  pH: { live: 0.1, old: 0.3 },
  tempC: { live: 0.5, old: 2, setpoint: 2 }
} as const

/** pH at a moment: the probe while it is live, else the newest of what probe and kit last said; null where neither did. */
export function pHAt(facts: TankFacts, probe: ProbeValue | null, atMs: number): Sourced | null {
  return newest({ probe, typed: around(facts.pH, atMs).last, atMs, errors: errors.pH })
}

/** Temperature at a moment, likewise; the heater's setpoint where nobody measured. */
export function tempAt(facts: TankFacts, probe: ProbeValue | null, atMs: number): Sourced | null {
  const measured = newest({ probe, typed: around(facts.temperature, atMs).last, atMs, errors: errors.tempC })
  if (measured !== null) return measured
  const { setpointC } = facts.profile
  if (setpointC === undefined) return null
  return { value: setpointC, error: errors.tempC.setpoint, atMs, from: 'setpoint' }
}

function newest(
  given: Readonly<{
    probe: ProbeValue | null
    typed: TestValue | undefined
    atMs: number
    errors: Readonly<{ live: number; old: number }>
  }>
): Sourced | null {
  const { probe, typed, atMs } = given
  const probeAgeMs = probe === null ? Number.POSITIVE_INFINITY : atMs - probe.atMs
  if (probe !== null && probeAgeMs <= probeIsLiveMs)
    return { value: probe.value, error: given.errors.live, atMs: probe.atMs, from: 'probe' }
  const typedServes = typed !== undefined && atMs - typed.atMs <= typedServesMs
  const probeServes = probe !== null && probeAgeMs <= probeServesMs
  if (probeServes && (!typedServes || probe.atMs >= typed.atMs))
    return { value: probe.value, error: given.errors.old, atMs: probe.atMs, from: 'probe-a-while-ago' }
  if (typedServes) return { value: typed.value, error: given.errors.old, atMs: typed.atMs, from: 'typed' }
  return null
}
