import type { HeaterStanding } from './heater-standing.ts'
import { sureOff } from './heating-cycle.ts'

export type NotHeatingSign =
  | 'below-band-and-no-heat'
  | 'no-heat-after-change'
  | 'no-power-below-band'
  | 'power-stopped-short'
  | null

/** After a fall that is steeper than the tank's own cooling, wait: a window, or a little water was changed. */
const steepWaitMin = 120
/** A plug is out for so long while hands are in the tank. */
const offAtLeastMin = 40
/** After water was exchanged: from when on its way back is judged, and until when that is its story. */
export const recovery = { fromMin: 40, toMin: 240 } as const
/** How much warmer, or cooler, the room may seem than usual before the slope says nothing of the heater. */
const warmerK = { most: 2, ofLiftFrac: 0.35, ofGreatLiftFrac: 0.1 }
const coolerK = { most: 8, least: 0.5, ofLiftFrac: 0.2 }
/** So far below the band no suspicion but moving water is a reason to wait. */
const floorK = 0.8
/** A plug is out for less than this while water is let out. Common practice, no source. */
const stopped = { fromMin: 20, stillMin: 90, seen: 8, shortK: 0.15, spreads: 4.5 }
/** A heater that can hardly lift the water above the room cannot be told from the room. */
const tellableLiftK = { near: 5, far: 8 }

/**
 * The water is below the last plausible switching point of its thermostat, and its slope is that of water without
 * heat in the usual room.
 */
export function notHeatingSign(standing: HeaterStanding): NotHeatingSign {
  const { atMin, isLive, belief, prior, lowestC, movedMin, power } = standing
  if (!isLive || lowestC === null) return null
  const sinceMovedMin = atMin - movedMin
  const recovers = sinceMovedMin < recovery.toMin
  if (power !== null) {
    if (power.isOn) return null
    if (belief.waterC < lowestC && sinceMovedMin > recovery.fromMin) return 'no-power-below-band'
    return stoppedShort(standing) ? 'power-stopped-short' : null
  }
  if (belief.onFrac >= sureOff || !isUsualRoom(standing)) return null
  if (recovers)
    return sinceMovedMin > recovery.fromMin && belief.waterC < lowestC + 0.1 ? 'no-heat-after-change' : null
  if (prior.liftK < tellableLiftK.near) return null
  if (belief.waterC >= lowestC || atMin - standing.offSinceMin <= offAtLeastMin) return null
  return atMin - standing.steepMin > steepWaitMin ? 'below-band-and-no-heat' : null
}

/** The power ended in the middle of a heating, far below where this thermostat ends it, and stays away. */
function stoppedShort({ atMin, belief, upper, offSinceMin, offFromC, movedMin }: HeaterStanding): boolean {
  if (upper === null || upper.count < stopped.seen) return false
  const sinceMin = atMin - offSinceMin
  return (
    sinceMin > stopped.fromMin &&
    offSinceMin - movedMin > stopped.stillMin &&
    offFromC < upper.middleC - Math.max(stopped.shortK, stopped.spreads * upper.spreadK) &&
    belief.waterC < offFromC
  )
}

/** Far below the band, without heat, and no explanation but a room that got colder: also then it is said. */
export function farBelowSign(standing: HeaterStanding): boolean {
  const { isLive, belief, lowestC, prior, atMin, movedMin } = standing
  if (!isLive || lowestC === null || prior.liftK < tellableLiftK.far || standing.power?.isOn === true)
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

function isUsualRoom(standing: HeaterStanding): boolean {
  const gapK = standing.belief.restC - standing.usualRestC
  const { liftK } = standing.prior
  const warmer = Math.min(Math.max(warmerK.most, warmerK.ofGreatLiftFrac * liftK), warmerK.ofLiftFrac * liftK)
  const cooler = Math.min(coolerK.most, Math.max(coolerK.least, coolerK.ofLiftFrac * liftK))
  return gapK < warmer && gapK > -cooler
}
