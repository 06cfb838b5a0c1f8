import type { HeaterStanding } from './heater-standing.ts'
import { marginK, rareSpreads } from './learned-band.ts'
import { earlySunPerH } from './sun-pace.ts'

/**
 * How far from its edge a switching is no longer this thermostat's own, in spreads and kelvin; how long before it the
 * water must have been still; and how long it must last, minutes. Without a measured power the turn itself is only
 * estimated, and the heat around it must be plain. Tuned, see the fault bank.
 */
const measured = { spreads: 4, leastK: 0.12, stillMin: 90, seen: 4, stoppedMin: 22 } as const
const bySlope = { spreads: 5, leastK: 0.2, stillMin: 120, seen: 6, stoppedMin: 15 } as const
/** Measured heat may come so warm by chance only so often a year. Tuned, see the fault bank. */
const cameAYear = 0.04
/** Heat that warmed the water by less may never have been there. */
const plainStrokeK = 0.15
const plainMin = 10

/** After a fall that is steeper than the tank's own cooling a little water may have been changed. */
const steepWaitMin = 30

/** Cool water that is topped up calls for heat before the probe has felt it. */
const topUpMin = 20
/** A probe follows the water by minutes: so much cooler than shown it may have been. Common practice, no source. */
const probeLagMin = 3

/** Hands in the tank pull the plug for no longer than this. Common practice, no source. */
const plugOutMin = 30

/** Heat ended in the middle of warming, far below where this thermostat ends it, and stays away. */
export function stoppedShort(standing: HeaterStanding): boolean {
  const { atMin, belief, lower, upper, offSinceMin, offFromC, onSinceMin, onFromC, movedMin, power } =
    standing
  const need = power === null ? bySlope : measured
  if (upper === null || upper.count < need.seen) return false
  if (atMin - offSinceMin <= need.stoppedMin || offSinceMin - movedMin <= need.stillMin) return false
  if (
    offFromC >=
    upper.middleC + Math.min(0, standing.followedK) - Math.max(need.leastK, marginK(upper, need.spreads))
  )
    return false
  if (belief.waterC >= offFromC) return false
  if (power !== null) return true
  // The heat that ended must have been the thermostat's own: begun at its lower edge, and felt.
  return (
    lower !== null &&
    lower.count >= need.seen &&
    onFromC < lower.middleC + marginK(lower, need.spreads) &&
    isPlainStroke(standing, offFromC - onFromC, offSinceMin - onSinceMin)
  )
}

/**
 * Heat by slope that nothing but a heater brings: the room and its windows make less of a turn than this, the sun is
 * slower, and it must have warmed the water plainly. Tuned, see the fault bank.
 */
const came = {
  liftK: 6,
  /** A heater with less to give is told from a window that was closed only long after any steep fall. */
  greatLiftK: 12,
  aYear: 0.02,
  leastK: 0.12,
  seen: 6,
  stillMin: 120,
  steepMin: { little: 180, great: 60 },
  offMin: 25,
  /** Warm water that is poured in is done sooner. */
  onMin: 20,
  onFrac: 0.85,
  roomOfLift: 0.2,
  roomMostK: 3
} as const

/** Plain heat began, by the slope, far above where this thermostat calls for it. */
export function cameTooWarmBySlope(standing: HeaterStanding): boolean {
  const { belief, prior, lower, upper, onFromC, offFromC } = standing
  if (lower === null || lower.count < came.seen || upper === null || upper.count < came.seen) return false
  if (!isPlainTurn(standing)) return false
  if (standing.sunMayShine && prior.heatingPerH <= earlySunPerH) return false
  // The heat before must have ended where the thermostat ends it.
  if (offFromC <= upper.middleC - 2 * upper.spreadK) return false
  const marginToEdgeK = Math.max(came.leastK, marginK(lower, rareSpreads(lower.perDay, came.aYear)))
  if (onFromC <= lower.middleC + Math.max(0, standing.followedK) + marginToEdgeK) return false
  if (belief.waterC - onFromC <= plainStrokeK + standing.noiseK) return false
  const gapK = belief.restC - standing.usualRestC
  return Math.abs(gapK) < Math.min(came.roomMostK, came.roomOfLift * prior.liftK)
}

/** Still water cooled for a while and then plainly warmed, with no window and no hand near. */
function isPlainTurn(standing: HeaterStanding): boolean {
  const { atMin, belief, prior, onSinceMin, offSinceMin, movedMin, steepMin } = standing
  const steepWait = prior.liftK < came.greatLiftK ? came.steepMin.little : came.steepMin.great
  return (
    prior.liftK >= came.liftK &&
    onSinceMin - movedMin > came.stillMin &&
    onSinceMin - steepMin > steepWait &&
    onSinceMin - offSinceMin >= came.offMin &&
    atMin - onSinceMin >= came.onMin &&
    belief.onFrac >= came.onFrac
  )
}

/** Measured heat came while the water was far above where this thermostat calls for it. */
export function cameTooWarm(standing: HeaterStanding): boolean {
  const { belief, lower, upper, onSinceMin, offSinceMin, onFromC, offFromC, movedMin, steepMin } = standing
  if (lower === null || lower.count < measured.seen) return false
  if (onSinceMin - movedMin <= measured.stillMin || onSinceMin - steepMin <= steepWaitMin) return false
  if (onSinceMin - offSinceMin <= topUpMin) return false
  // Cold water that was poured in reaches the thermostat before it reaches the probe: it must be warm still.
  const lagK = (probeLagMin * standing.prior.heatingPerH) / 60
  const tooWarmC =
    lower.middleC +
    Math.max(0, standing.followedK) +
    Math.max(measured.leastK, marginK(lower, rareSpreads(lower.perDay, cameAYear))) +
    lagK
  if (onFromC <= tooWarmC || belief.waterC <= tooWarmC) return false
  // A plug that was out for a moment brings heat back wherever the water then is.
  const endedByItself = upper !== null && offFromC > upper.middleC - upper.spreadK
  return endedByItself || onSinceMin - offSinceMin > plugOutMin
}

/** Heat that was surely there: it warmed the water by more than a doubt of the filter does, for long enough. */
const isPlainStroke = ({ noiseK }: HeaterStanding, strokeK: number, forMin: number): boolean =>
  strokeK > plainStrokeK + noiseK && forMin >= plainMin
