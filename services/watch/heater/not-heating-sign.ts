import { type HeaterStanding, spareLiftK } from './heater-standing.ts'
import { sureOff } from './heating-cycle.ts'
import { marginK } from './learned-band.ts'
import { stoppedShort } from './out-of-turn.ts'

export type NotHeatingSign =
  | 'below-band-and-no-heat'
  | 'no-heat-after-change'
  | 'no-power-below-band'
  | 'power-stopped-short'
  | 'heat-stopped-short'
  | null

/**
 * After a fall that is steeper than the tank's own cooling, wait: a window, or a little water was changed. A heater
 * with so much to spare warms against any window.
 */
const steepWait = { min: 120, strongMin: 45, strongK: 8 } as const
/** A plug is out for so long while hands are in the tank. */
const offAtLeastMin = 40
/** A plug is out for less than this while water is changed that cannot be told from the old. Common practice, no source. */
const pulledMin = 22
/** A heater with less to spare loses against an open window, which is closed again after so long. Common practice, no source. */
const windowSpareK = 4
const windowMin = 150
/** After water was exchanged: from when on its way back is judged, and until when that is its story. */
export const recovery = { fromMin: 40, toMin: 240, nearK: 0.1, warmerK: 2, coolerK: 2.5 } as const
const recoveredSeen = 4
const recoveredSpreads = 3
/** How much warmer, or cooler, the room may seem than usual before the slope says nothing of the heater. */
const warmerK = { most: 2, ofLiftFrac: 0.35, ofGreatLiftFrac: 0.1 }
const coolerK = { most: 8, least: 0.5, ofLiftFrac: 0.2 }
/** So far below the band no suspicion but moving water is a reason to wait. */
const floorK = 0.8
/** A heater that can hardly lift the water above the room cannot be told from the room. */
const tellableLiftK = { near: 5, far: 8 }
/** Of so small a heater it must be surer that it is off. */
const surestOff = 0.08
/**
 * Water that lay below its band for such a share of the last days has a heater too small for its room: at any time,
 * and on its way back from a change where the heater lifts the water little, or much. Tuned, see the fault bank.
 */
const oftenShortFrac = { always: 0.01, littleLift: 0.02, greatLift: 0.3 } as const

/**
 * The water is below the last plausible switching point of its thermostat, and its slope is that of water without
 * heat in the usual room.
 */
export function notHeatingSign(standing: HeaterStanding): NotHeatingSign {
  const { atMin, isLive, belief, prior, lowestC, movedMin, power } = standing
  if (!isLive || lowestC === null || standing.dryFall !== null) return null
  const sinceMovedMin = atMin - movedMin
  const recovers = sinceMovedMin < recovery.toMin && !hasRecovered(standing)
  if (power !== null) {
    if (power.isOn) return null
    if (atMin - standing.offSinceMin <= pulledMin || atMin - standing.steepMin <= pulledMin) return null
    if (belief.waterC < lowestC && sinceMovedMin > recovery.fromMin) return 'no-power-below-band'
    return stoppedShort(standing) ? 'power-stopped-short' : null
  }
  if (belief.onFrac >= (prior.liftK < tellableLiftK.near ? surestOff : sureOff)) return null
  if (recovers) return isColdAfterChange(standing) ? 'no-heat-after-change' : null
  if (!isUsualRoom(standing)) return null
  if (prior.liftK < tellableLiftK.near || standing.shortFrac > oftenShortFrac.always) return null
  const spareK = spareLiftK(standing)
  const steepWaitMin = spareK > steepWait.strongK ? steepWait.strongMin : steepWait.min
  if (atMin - standing.steepMin <= steepWaitMin) return null
  const hasSpare = spareK > windowSpareK
  if (belief.waterC >= lowestC)
    return spareK > steepWait.strongK && stoppedShort(standing) ? 'heat-stopped-short' : null
  return atMin - standing.offSinceMin > (hasSpare ? offAtLeastMin : windowMin)
    ? 'below-band-and-no-heat'
    : null
}

/** Water on its way back from a change is as cold as ever, and cools or warms as without heat. */
function isColdAfterChange(standing: HeaterStanding): boolean {
  const { atMin, belief, prior, lowestC, movedMin, shortFrac } = standing
  if (lowestC === null || atMin - movedMin <= recovery.fromMin) return false
  const { littleLift, greatLift } = oftenShortFrac
  if (shortFrac > (prior.liftK < tellableLiftK.far ? littleLift : greatLift)) return false
  return (
    belief.waterC < lowestC + recovery.nearK &&
    isUsualRoom(standing, prior.liftK < tellableLiftK.near ? undefined : recovery)
  )
}

/** Heat came back after the change and ended where this thermostat ends it: from there on the band tells. */
function hasRecovered({ upper, offSinceMin, offFromC, movedMin }: HeaterStanding): boolean {
  if (upper === null || upper.count < recoveredSeen) return false
  return offSinceMin > movedMin && offFromC > upper.middleC - marginK(upper, recoveredSpreads)
}

/** Far below the band, without heat, and no explanation but a room that got colder: also then it is said. */
export function farBelowSign(standing: HeaterStanding): boolean {
  const { isLive, belief, lowestC, prior, atMin, movedMin } = standing
  if (
    !isLive ||
    standing.dryFall !== null ||
    lowestC === null ||
    prior.liftK < tellableLiftK.far ||
    standing.power?.isOn === true
  )
    return false
  if (atMin - movedMin < recovery.fromMin) return false
  const gapK = belief.restC - standing.usualRestC
  return (
    belief.waterC < lowestC - floorK &&
    belief.onFrac < sureOff &&
    gapK > -coolerK.most &&
    gapK < warmerK.ofLiftFrac * prior.liftK
  )
}

/** `atLeast` widens it where a room hardly changes meanwhile. */
function isUsualRoom(standing: HeaterStanding, atLeast = { warmerK: 0, coolerK: 0 }): boolean {
  const gapK = standing.belief.restC - standing.usualRestC
  const { liftK } = standing.prior
  const warmer = Math.min(Math.max(warmerK.most, warmerK.ofGreatLiftFrac * liftK), warmerK.ofLiftFrac * liftK)
  const cooler = Math.min(coolerK.most, Math.max(coolerK.least, coolerK.ofLiftFrac * liftK))
  return gapK < Math.max(warmer, atLeast.warmerK) && gapK > -Math.max(cooler, atLeast.coolerK)
}
