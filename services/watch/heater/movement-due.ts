import type { HeaterStanding } from './heater-standing.ts'

/** So much the thermostat's learned band must span, and so often both its edges must have been seen. */
const leastBandK = 0.25
const leastSeen = 6
/** So far above its rest the water must lie: a room does not warm by that within two hours. */
const leastGapK = 4
/** At this pace two hours are four steps of an ordinary sensor. */
const leastPerH = 0.12

/**
 * Whether the water must be on the move: it lies within a band between whose edges its thermostat keeps switching,
 * far from where it would settle with the heater off, and far from where it would with the heater on.
 */
export function isMovementDue(standing: HeaterStanding): boolean {
  const { belief, prior, lower, upper, lowestC, highestC, usualRestC } = standing
  if (lower === null || upper === null || lowestC === null || highestC === null) return false
  if (lower.count < leastSeen || upper.count < leastSeen) return false
  if (upper.middleC - lower.middleC < leastBandK) return false
  if (belief.waterC < lowestC || belief.waterC > highestC) return false
  const gapK = belief.waterC - usualRestC
  const coolingPerH = gapK / prior.coolingH
  return gapK >= leastGapK && coolingPerH >= leastPerH && belief.heatingPerH - coolingPerH >= leastPerH
}
