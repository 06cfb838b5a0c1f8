import type { HeaterStanding } from './heater-standing.ts'
import { marginK } from './learned-band.ts'

/**
 * How far from its edge a switching is no longer this thermostat's own, in spreads and kelvin; how long before it the
 * water must have been still; and how long it must last, minutes. Without a measured power the turn itself is only
 * estimated, and the heat around it must be plain. Tuned, see the fault bank.
 */
const measured = { spreads: 4, leastK: 0.12, stillMin: 90, seen: 4, stoppedMin: 22 } as const
const bySlope = { spreads: 4.5, leastK: 0.2, stillMin: 120, seen: 6, stoppedMin: 15 } as const
/** Heat that warmed the water by less may never have been there. */
const plainStrokeK = 0.15
const plainMin = 10

/** After a fall that is steeper than the tank's own cooling a little water may have been changed. */
const steepWaitMin = 30

/** Hands in the tank pull the plug for no longer than this. Common practice, no source. */
const plugOutMin = 30

/** Heat ended in the middle of warming, far below where this thermostat ends it, and stays away. */
export function stoppedShort(standing: HeaterStanding): boolean {
  const { atMin, belief, lower, upper, offSinceMin, offFromC, onSinceMin, onFromC, movedMin, power } =
    standing
  const need = power === null ? bySlope : measured
  if (upper === null || upper.count < need.seen) return false
  if (atMin - offSinceMin <= need.stoppedMin || offSinceMin - movedMin <= need.stillMin) return false
  if (offFromC >= upper.middleC - Math.max(need.leastK, marginK(upper, need.spreads))) return false
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

/** Measured heat came while the water was far above where this thermostat calls for it. */
export function cameTooWarm(standing: HeaterStanding): boolean {
  const { belief, lower, upper, onSinceMin, offSinceMin, onFromC, offFromC, movedMin, steepMin } = standing
  if (lower === null || lower.count < measured.seen) return false
  if (onSinceMin - movedMin <= measured.stillMin || onSinceMin - steepMin <= steepWaitMin) return false
  // Cold water that was poured in reaches the thermostat before it reaches the probe: it must be warm still.
  const tooWarmC = lower.middleC + Math.max(measured.leastK, marginK(lower, measured.spreads))
  if (onFromC <= tooWarmC || belief.waterC <= tooWarmC) return false
  // A plug that was out for a moment brings heat back wherever the water then is.
  const endedByItself = upper !== null && offFromC > upper.middleC - upper.spreadK
  return endedByItself || onSinceMin - offSinceMin > plugOutMin
}

/** Heat that was surely there: it warmed the water by more than a doubt of the filter does, for long enough. */
const isPlainStroke = ({ noiseK }: HeaterStanding, strokeK: number, forMin: number): boolean =>
  strokeK > plainStrokeK + noiseK && forMin >= plainMin
