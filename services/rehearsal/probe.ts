import type { Quantity } from '../tank/quantity.ts'
import type { Dice } from './dice.ts'

export type ProbeDescription = Readonly<{
  name: string
  quantity: Quantity
  everyMs: number
  /** Moves its samples within the interval, so that two boards do not speak in one breath. */
  phaseMs?: number | undefined
  noiseSd: number
  /** Smallest step it can show, in its unit. */
  step: number
  /** Time it needs to follow the water, seconds. */
  lagS: number
  offset?: number | undefined
  driftPerDay?: number | undefined
}>

/** What can be wrong with a probe. */
export type ProbeFault =
  | Readonly<{ kind: 'none' | 'silent' | 'stuck' | 'out-of-water' }>
  /** The register at power-on, now and then instead of a measurement. */
  | Readonly<{ kind: 'power-up-glitch'; probabilityFrac: number }>
  /** What a driver answers when the sensor does not. */
  | Readonly<{ kind: 'broken-cable' }>
  /** Dirty glass: slow and off. */
  | Readonly<{ kind: 'fouled'; lagFactor: number; offset: number }>
  | Readonly<{ kind: 'drifting'; perDay: number }>

/** What a probe would feel in the water and out of it. */
export type Surroundings = Readonly<{ inWater: number; inAir: number }>

export type Probe = Readonly<{
  description: ProbeDescription
  /** Lets the probe follow its surroundings for one step. */
  follow(around: Surroundings, seconds: number): void
  /** What it sends now; null where it stays silent. */
  read(): number | null
  setFault(fault: ProbeFault): void
}>

/** DS18B20: 85 °C is its register at power-on (data sheet); -127 is the usual driver's "no answer" (from memory). */
const powerUpCode = 85
const noAnswerCode = -127
/** Air moves heat a good deal more slowly than water does. Common practice, no source. */
const lagInAirS = 240

export function makeProbe(description: ProbeDescription, dice: Dice): Probe {
  let felt: number | null = null
  let driftOffset = description.offset ?? 0
  let fault: ProbeFault = { kind: 'none' }
  let lastSent: number | null = null
  const stepsPerUnit = Math.round(1 / description.step)
  let kept = { lagS: 0, seconds: 0, frac: 0 }

  const keptFrac = (lagS: number, seconds: number): number => {
    if (lagS <= 0) return 0
    if (kept.lagS !== lagS || kept.seconds !== seconds)
      kept = { lagS, seconds, frac: Math.exp(-seconds / lagS) }
    return kept.frac
  }

  const shown = (): number => {
    const fouling = fault.kind === 'fouled' ? fault.offset : 0
    const raw = (felt ?? 0) + driftOffset + fouling + description.noiseSd * dice.normal()
    // Divided by the steps in a unit, not multiplied by the step: 7.41, not 7.410000000000001.
    return Math.round(raw * stepsPerUnit) / stepsPerUnit
  }

  return {
    description,
    follow({ inWater, inAir }, seconds) {
      const dry = fault.kind === 'out-of-water'
      const around = dry ? inAir : inWater
      const slow = fault.kind === 'fouled' ? fault.lagFactor : 1
      const lagS = dry ? Math.max(lagInAirS, description.lagS) : description.lagS * slow
      felt = felt === null ? around : around + (felt - around) * keptFrac(lagS, seconds)
      const perDay = (description.driftPerDay ?? 0) + (fault.kind === 'drifting' ? fault.perDay : 0)
      driftOffset += (perDay * seconds) / 86_400
    },
    read() {
      if (fault.kind === 'silent') return null
      if (fault.kind === 'broken-cable') return noAnswerCode
      if (fault.kind === 'power-up-glitch' && dice.chance(fault.probabilityFrac)) return powerUpCode
      if (fault.kind === 'stuck' && lastSent !== null) return lastSent
      lastSent = shown()
      return lastSent
    },
    setFault(next) {
      fault = next
    }
  }
}

/** A DS18B20 in a steel sleeve: 12 bits are 0.0625 K a step. */
export const temperatureProbe = (
  given: Readonly<{
    name: string
    everyMs: number
    noiseK?: number
    lagS?: number
    offsetK?: number
    phaseMs?: number
  }>
): ProbeDescription => ({
  name: given.name,
  quantity: 'temperature',
  everyMs: given.everyMs,
  phaseMs: given.phaseMs,
  noiseSd: given.noiseK ?? 0.02,
  step: 0.0625,
  lagS: given.lagS ?? 40,
  offset: given.offsetK
})

/** A glass electrode behind an isolated board that shows hundredths. */
export const phProbe = (
  given: Readonly<{
    name: string
    everyMs: number
    noisePH?: number
    driftPerDay?: number
    offsetPH?: number
    phaseMs?: number
  }>
): ProbeDescription => ({
  name: given.name,
  quantity: 'ph',
  everyMs: given.everyMs,
  phaseMs: given.phaseMs,
  noiseSd: given.noisePH ?? 0.006,
  step: 0.01,
  lagS: 60,
  offset: given.offsetPH,
  driftPerDay: given.driftPerDay
})
