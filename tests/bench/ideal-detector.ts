import type { HeaterDescription } from '../../services/rehearsal/heater.ts'
import type { LivedMinutes } from './lived-minutes.ts'

const daysAYear = 365
const minutesADay = 1440
/** All the false alarms a tank-year that the fault bank allows, given to this one fault alone. */
const allowedAYear = 0.5
/** A thermostat that hardly ever switched is not taken for one that never does. */
const leastCyclesAYear = 50

/**
 * How soon a detector could speak at best: it sees the water's true temperature and the heater's true power in the
 * minute itself, and knows where its thermostat switches and how far it scatters. All that it cannot know is how far
 * out the next switching point lies, and it must be silent on healthy ones. Minutes from when the fault shows.
 * Source: the virtual heater scatters normally about its edges; what lies beyond so many spreads is the normal tail.
 */
export function idealAfter(
  fault: 'not-heating' | 'stuck-on',
  given: Readonly<{ heater: HeaterDescription; truth: LivedMinutes['truth']; onset: number; shows: number }>
): number | null {
  const { heater, truth, onset, shows } = given
  const { waterC, powerW } = truth
  const wideK = spreadsFor(cyclesAYear(truth.asked, onset)) * heater.jitterK
  const lowerC = heater.setpointC - heater.bandK
  const upperC = heater.setpointC + heater.bandK
  const before = onset - 1
  const wasOn = (powerW[before] ?? 0) > 0
  const turnedAtC = waterC[before] ?? heater.setpointC
  // Heat that goes far below the upper edge, or comes far above the lower one, tells in its first minute.
  const isOutOfTurn =
    fault === 'not-heating' ? wasOn && turnedAtC < upperC - wideK : !wasOn && turnedAtC > lowerC + wideK
  if (isOutOfTurn) return 0
  for (let at = shows; at < waterC.length; at += 1) {
    const nowC = waterC[at] ?? heater.setpointC
    if (fault === 'not-heating' ? nowC < lowerC - wideK : nowC > upperC + wideK) return at - shows
  }
  return null
}

function cyclesAYear(asked: Uint8Array, onset: number): number {
  let cycles = 0
  for (let at = 1; at < onset; at += 1) if (asked[at] === 1 && asked[at - 1] === 0) cycles += 1
  return Math.max(leastCyclesAYear, (cycles * daysAYear * minutesADay) / onset)
}

/**
 * How many spreads out a switching must lie to be taken for healthy only so often a year; two switchings a cycle.
 * Source: Abramowitz and Stegun 1964, 26.2.23, the normal quantile to 4.5e-4 (from memory).
 */
function spreadsFor(cycles: number): number {
  const t = Math.sqrt(-2 * Math.log(allowedAYear / (2 * cycles)))
  return (
    t -
    (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3)
  )
}
