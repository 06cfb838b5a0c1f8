import { median } from '../../series/median.ts'
import { normalTail } from '../../series/normal-tail.ts'

/** Where a thermostat has switched, as this tank's probe shows it. */
export type Edge = Readonly<{
  middleC: number
  spreadK: number
  count: number
  /** How often a day it switches there. */
  perDay: number
}>
export type Switching = Readonly<{ atMin: number; tempC: number }>

/** So long and so many are remembered. */
const rememberMin = 14 * 1440
const mostRemembered = 60
/** Beyond an edge that the setpoint alone tells of. */
const fewSpreads = 3.2
/** Fewer say less than the setpoint does. */
const enough = 4
/** Switching points scatter by so much in an ordinary thermostat; weighs as ten of its own. Common practice, no source. */
const usualSpreadK = 0.075
const usualSpreadWeight = 10
/** Half of an ordinary thermostat's band, and the doubt in it with the probe's own error. Common practice, no source. */
const usualHalfBandK = 0.35
const setpointDoubtK = 0.28
const ownDoubtK = 0.1
/** A probe may show so much less, or more, than the dial says. Common practice, no source. */
const probeErrorK = 0.2
/** What lies beyond an edge by chance only so often a year is no longer this thermostat's doing. Tuned, see the fault bank. */
const allowedAYear = 0.15
/** The spread is drawn upwards, and a switching so far out must also last: fewer spreads do. Tuned. */
const spreadsFrac = 0.9
const leastPerDay = 1

/**
 * How many spreads out a switching is so rare that it comes by chance only so often a year. A small tank with a strong
 * heater switches forty times a day, a large one twice: it may be judged the sooner.
 */
export const rareSpreads = (perDay: number, aYear: number): number =>
  spreadsFrac * normalTail(aYear / (365 * Math.max(leastPerDay, perDay)))

/** More are needed while few switchings were seen. */
const fewDoubt = { byCount: 3, bySquare: 20 } as const
const leastMarginK = 0.08

/** Forgets what is old or too much, from the front of a list in time order. */
export function forgetOld(list: Switching[], nowMin: number): void {
  while (list.length > 0 && ((list[0]?.atMin ?? 0) < nowMin - rememberMin || list.length > mostRemembered))
    list.shift()
}

/**
 * The middle and the spread of switching points, both of a kind that single wild points do not bend.
 * Units: degC, K.
 * Source: median; spread from the 75th and the 90th percentile of the distances from it (1.15 and 1.645 standard
 *   deviations of a normal distribution), drawn towards the usual one where there are few.
 */
export function edgeOf(list: readonly Switching[], noiseK: number): Edge | null {
  const middleC = median(list.map(({ tempC }) => tempC))
  if (middleC === null) return null
  const count = list.length
  const distances = list.map(({ tempC }) => Math.abs(tempC - middleC)).sort((a, b) => a - b)
  const at = (share: number): number => distances[Math.floor(share * (count - 1))] ?? 0
  const own = Math.max(at(0.75) / 1.15, at(0.9) / 1.645)
  const drawn = Math.sqrt(
    (count * own * own + usualSpreadWeight * usualSpreadK ** 2) / (count + usualSpreadWeight)
  )
  const days = ((list.at(-1)?.atMin ?? 0) - (list[0]?.atMin ?? 0)) / 1440
  const perDay = days > 0 ? (count - 1) / days : 1
  return { middleC, spreadK: Math.max(Math.hypot(0.03, 0.5 * noiseK), drawn), count, perDay }
}

/** Edges that lie closer than any thermostat's are the room's doing. Common practice, no source. */
const leastBandK = 0.12

/** Whether two learned edges can be those of one thermostat. */
export const isOneBand = (lower: Edge | null, upper: Edge | null): boolean =>
  lower === null || upper === null || upper.middleC - lower.middleC >= leastBandK

/** How far from its middle an edge still reaches at so many spreads: further while few switchings were seen. Units: K. */
export const marginK = ({ spreadK, count }: Edge, spreads: number): number =>
  Math.max(leastMarginK, spreads * spreadK * (1 + fewDoubt.byCount / count + fewDoubt.bySquare / count ** 2))

/**
 * Beyond which temperature the thermostat should have switched long ago; null where neither it nor its setpoint is
 * known. Leans on the setpoint while few switchings were seen.
 */
export function lastPlausibleC(
  edge: Edge | null,
  given: Readonly<{ side: 'lower' | 'upper'; setpointC: number | null }>
): number | null {
  const sign = given.side === 'lower' ? -1 : 1
  const known = edge !== null && edge.count >= enough ? edge : null
  const { setpointC } = given
  if (known !== null && known.count >= 2 * enough)
    return notInside(
      known.middleC + sign * marginK(known, rareSpreads(known.perDay, allowedAYear)),
      sign,
      setpointC
    )
  const told = given.setpointC === null ? null : given.setpointC + sign * usualHalfBandK
  const toldWeight = told === null ? 0 : 1 / setpointDoubtK ** 2
  const ownWeight = known === null ? 0 : known.count / ownDoubtK ** 2
  if (toldWeight + ownWeight === 0) return null
  const middleC = ((told ?? 0) * toldWeight + (known?.middleC ?? 0) * ownWeight) / (toldWeight + ownWeight)
  const spreadK = Math.hypot(1 / Math.sqrt(toldWeight + ownWeight), known?.spreadK ?? 0.08)
  const lastC = middleC + sign * fewSpreads * spreadK
  // A heater that barely suffices hardly ever reaches its edge: few turns, guessed inside the dial's own band, are none.
  return told === null ? lastC : sign * Math.max(sign * lastC, sign * told)
}

/** No thermostat switches off below its setpoint, nor on above it, whatever few and doubtful switchings say. */
const notInside = (tempC: number, sign: number, setpointC: number | null): number =>
  setpointC === null ? tempC : sign * Math.max(sign * tempC, sign * (setpointC - sign * probeErrorK))
