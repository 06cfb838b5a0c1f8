import { median } from '../series/median.ts'
import { robustLine } from '../series/theil-sen.ts'
import {
  carryBelief,
  type DriftBelief,
  type DriftPriors,
  errorOf,
  freshBelief,
  learnFrom,
  monthMs,
  surpriseOf
} from './drift-filter.ts'
import type { ProbeReference } from './probe-reference.ts'

export type DriftLimits = DriftPriors &
  Readonly<{
    /** A probe that is off by more than this is no use. */
    limit: number
    /** Why these sizes; shown to the keeper. */
    reason: string
  }>

/**
 * What is expected of a probe before it was ever compared, and how wrong it may become.
 * Source: pH 0.05 to 0.2 a month in continuous use (from memory); DS18B20 within 0.5 °C from -10 to +85 °C (data
 * sheet); the limits: common practice, no source.
 */
export const driftLimits: Readonly<Record<'ph' | 'temperature', DriftLimits>> = {
  ph: {
    limit: 0.3,
    offsetPriorSd: 0.1,
    perMonthPriorSd: 0.1,
    reason:
      'A calibrated electrode in water wanders by about 0.1 a month. Off by 0.3, it misleads about ammonia.'
  },
  temperature: {
    limit: 1,
    offsetPriorSd: 0.3,
    perMonthPriorSd: 0.05,
    reason:
      'The sensor is made to be within half a degree and hardly ages. Off by a degree, it misleads about fish.'
  }
}

export type DriftVerdict =
  | 'no-reference'
  /** The newest reference contradicts all that is known: measure again before anything is believed. */
  | 'repeat-reference'
  | 'not-enough'
  | 'steady'
  | 'drifting'
  | 'past-limit'

export type ProbeDrift = Readonly<{
  verdict: DriftVerdict
  method: 'prior' | 'kalman' | 'theil-sen'
  /** How many the judgement rests on. */
  references: number
  /** Above zero where the probe reads high. */
  offsetNow: number
  offsetSd: number
  perMonth: number
  /** The 95 % interval of `perMonth`. */
  perMonthLow: number
  perMonthHigh: number
  /** When the limit is passed at this drift; now where it already is; null where that cannot be said. */
  passesLimitAtMs: number | null
  /** The newest reference, where it is a wild one that should be measured again. */
  wildAtMs: number | null
  /** When the probe jumped, as two references in a row say; null where it did not. */
  jumpedAtMs: number | null
}>

const wildSds = 3
const enough = 6
const normal95 = 1.959964
/** A day further off than this is no news. */
const horizonMs = 24 * monthMs

/**
 * How far off a probe is and where it is going, from sparse comparisons with something better. Below six of them a
 * Kalman filter with priors answers, from six on the Theil-Sen line with its interval. One reference more than
 * three standard deviations off changes nothing and asks to be repeated; two in a row that agree mean that the
 * probe jumped, and it is judged anew from there.
 * Units: those of the probe; per month; milliseconds.
 * Valid: references since the last calibration, in any order; a later one than nowMs is left out.
 * Source: R. E. Kalman 1960, J. Basic Eng. 82:35-45; P. K. Sen 1968, JASA 63:1379-1389; standard error of a median
 *   1.2533 s / sqrt(n) (textbook).
 * Exact to: see the shares of the intervals in its tests.
 */
export function judgeProbeDrift(
  given: Readonly<{ references: readonly ProbeReference[]; sinceMs: number; nowMs: number }>,
  limits: DriftLimits
): ProbeDrift {
  const { sinceMs, nowMs } = given
  const known = given.references
    .filter((reference) => reference.atMs >= sinceMs && reference.atMs <= nowMs)
    .toSorted((a, b) => a.atMs - b.atMs)
  const heard = hearAll(known, freshBelief(sinceMs, limits), limits)
  const estimate = byLine(heard.inForce, nowMs) ?? byFilter(heard, nowMs)
  const passesLimitAtMs = passesAt(estimate, { nowMs, limit: limits.limit })
  return {
    verdict: verdictOf(estimate, heard, limits.limit),
    ...estimate,
    passesLimitAtMs,
    wildAtMs: heard.wild?.atMs ?? null,
    jumpedAtMs: heard.jumpedAtMs
  }
}

type Heard = Readonly<{
  belief: DriftBelief
  /** Those since the last jump, also single wild ones: a robust line bears them. */
  inForce: readonly ProbeReference[]
  learned: number
  /** A wild one that nothing has confirmed or contradicted yet. */
  wild: ProbeReference | null
  jumpedAtMs: number | null
}>

function hearAll(references: readonly ProbeReference[], start: DriftBelief, priors: DriftPriors): Heard {
  let heard: Heard = { belief: start, inForce: [], learned: 0, wild: null, jumpedAtMs: null }
  for (const reference of references) heard = hear(heard, reference, priors)
  return heard
}

function hear(heard: Heard, reference: ProbeReference, priors: DriftPriors): Heard {
  const inForce = [...heard.inForce, reference]
  if (surpriseOf(heard.belief, reference) <= wildSds) {
    const belief = learnFrom(heard.belief, reference)
    return { ...heard, belief, inForce, learned: heard.learned + 1, wild: null }
  }
  if (heard.wild === null || !doAgree(heard.wild, reference)) return { ...heard, inForce, wild: reference }
  const jumpedAtMs = heard.wild.atMs
  const size = Math.abs(errorOf(heard.wild)) + priors.offsetPriorSd
  const anew = freshBelief(jumpedAtMs, { ...priors, offsetPriorSd: 10 * size })
  return {
    belief: learnFrom(learnFrom(anew, heard.wild), reference),
    inForce: [heard.wild, reference],
    learned: 2,
    wild: null,
    jumpedAtMs
  }
}

const doAgree = (a: ProbeReference, b: ProbeReference): boolean =>
  Math.abs(errorOf(a) - errorOf(b)) <= wildSds * Math.hypot(a.referenceSd, b.referenceSd)

type Estimate = Omit<ProbeDrift, 'verdict' | 'passesLimitAtMs' | 'wildAtMs' | 'jumpedAtMs'>

function byFilter(heard: Heard, nowMs: number): Estimate {
  const now = carryBelief(heard.belief, nowMs)
  const half = normal95 * Math.sqrt(now.perMonthVar)
  return {
    method: heard.learned === 0 ? 'prior' : 'kalman',
    references: heard.learned,
    offsetNow: now.offset,
    offsetSd: Math.sqrt(now.offsetVar),
    perMonth: now.perMonth,
    perMonthLow: now.perMonth - half,
    perMonthHigh: now.perMonth + half
  }
}

function byLine(references: readonly ProbeReference[], nowMs: number): Estimate | null {
  const moments = new Set(references.map((reference) => reference.atMs)).size
  if (moments < enough) return null
  const points = references.map((reference) => ({ atMs: reference.atMs, value: errorOf(reference) }))
  const line = robustLine(points, { shareFrac: 0.95 })
  const middleMs = median(points.map((point) => point.atMs))
  const claimedSd = median(references.map((reference) => reference.referenceSd))
  if (line === null || middleMs === null || claimedSd === null) return null
  const months = monthMs / 86_400_000
  const slopeSd = ((line.perDayHigh - line.perDayLow) * months) / (2 * normal95)
  const levelSd = (1.2533 * Math.max(line.spread, claimedSd)) / Math.sqrt(moments)
  return {
    method: 'theil-sen',
    references: references.length,
    offsetNow: line.at(nowMs),
    offsetSd: Math.hypot(levelSd, (slopeSd * (nowMs - middleMs)) / monthMs),
    perMonth: line.perDay * months,
    perMonthLow: line.perDayLow * months,
    perMonthHigh: line.perDayHigh * months
  }
}

const isSurelyDrifting = ({ perMonthLow, perMonthHigh }: Estimate): boolean =>
  perMonthLow > 0 || perMonthHigh < 0

function passesAt(estimate: Estimate, ask: Readonly<{ nowMs: number; limit: number }>): number | null {
  const { offsetNow, perMonth } = estimate
  if (Math.abs(offsetNow) >= ask.limit) return ask.nowMs
  if (!isSurelyDrifting(estimate)) return null
  const leftMs = ((Math.sign(perMonth) * ask.limit - offsetNow) / perMonth) * monthMs
  return leftMs > horizonMs ? null : Math.round(ask.nowMs + leftMs)
}

function verdictOf(estimate: Estimate, heard: Heard, limit: number): DriftVerdict {
  const { offsetNow, offsetSd } = estimate
  if (estimate.method !== 'prior' && Math.abs(offsetNow) > Math.max(limit, 2 * offsetSd)) return 'past-limit'
  if (heard.wild !== null) return 'repeat-reference'
  if (estimate.method === 'prior') return 'no-reference'
  if (estimate.method !== 'theil-sen') return 'not-enough'
  return isSurelyDrifting(estimate) ? 'drifting' : 'steady'
}
