import { type Edge, edgeOf, forgetOld, type Switching } from './learned-band.ts'
import { followedK, wanderedK } from './wandering-edges.ts'

/** The heater as its slopes tell of it, and where its thermostat switches. */
export type HeatingCycle = Readonly<{
  step: (minute: CycleMinute) => void
  lower: () => Edge | null
  upper: () => Edge | null
  isOn: () => boolean | null
  offSinceMin: () => number
  onSinceMin: () => number
  /** How cool the water was when the heater came on last. */
  onFromC: () => number
  /** How warm it was when the heater went off last. */
  offFromC: () => number
  /** Mean length of a cycle, minutes; null before two were seen. */
  periodMin: () => number | null
  /** How far both edges moved alike within the last day against the days before; null where that cannot be told. */
  wanderedK: (nowMin: number) => number | null
  /** How far both edges lie off their middles by their newest switchings, alike; 0 where they do not. */
  followedK: () => number
  forget: () => void
}>
export type CycleMinute = Readonly<{
  atMin: number
  waterC: number
  onFrac: number
  /** The heater's power is measured: a turn is no guess. */
  isMeasured: boolean
  noiseK: number
  /** Last minute of moved water. */
  movedMin: number
  isMoving: boolean
  /** Whether what the switching implies of room and setpoint is believable. */
  isPlausible: boolean
  setpointC: number | null
}>

/** From where a slope counts as heating, and as cooling. */
export const sureOn = 0.8
export const sureOff = 0.2
/** Water that was moved so shortly before tells nothing about the thermostat. */
const lowerAfterMin = 90
const upperAfterMin = 30
/** A heater that is on, or off, for a moment only has not shown its edge. */
const leastStrokeK = 0.12
/** Dials and probes err by less than this. Common practice, no source. */
const farFromSetpointK = 1.2

const dayMin = 1440

type Turn = { tempC: number; atMin: number }

export function makeHeatingCycle(): HeatingCycle {
  const lowers: Switching[] = []
  const uppers: Switching[] = []
  let lower: Edge | null = null
  let upper: Edge | null = null
  let isOn: boolean | null = null
  let coolest: Turn = { tempC: Number.POSITIVE_INFINITY, atMin: 0 }
  let warmest: Turn = { tempC: Number.NEGATIVE_INFINITY, atMin: 0 }
  /** A switching point that the water has not left yet. */
  let turn: Turn | null = null
  let onFromC = Number.NaN
  let offFromC = Number.NaN
  let onSinceMin = -1e9
  let offSinceMin = -1e9
  let periodMin: number | null = null
  let followed = 0
  let wandered: Readonly<{ atMin: number; byK: number | null }> = { atMin: -1e9, byK: null }

  const isFit = ({ isPlausible, setpointC }: CycleMinute, { tempC }: Turn): boolean =>
    isPlausible && (setpointC === null || Math.abs(tempC - setpointC - followed) < farFromSetpointK)

  /** Takes a turn for a switching point once the water has plainly left it. */
  function confirm(minute: CycleMinute): void {
    if (turn === null) return
    const { atMin, waterC, noiseK } = minute
    if (Math.abs(waterC - turn.tempC) < leastStrokeK) return
    if (isOn === true) {
      lowers.push({ atMin, tempC: turn.tempC })
      forgetOld(lowers, atMin)
      lower = edgeOf(lowers, noiseK)
    } else {
      uppers.push({ atMin, tempC: turn.tempC })
      forgetOld(uppers, atMin)
      upper = edgeOf(uppers, noiseK)
    }
    turn = null
    followed = followedK({ lowers, lower }, { uppers, upper }, atMin)
  }

  function switchOn(minute: CycleMinute): void {
    const { atMin } = minute
    const wasTrue = turn === null || minute.isMeasured
    turn = null
    if (
      isOn === false &&
      coolest.atMin - minute.movedMin > lowerAfterMin &&
      wasTrue &&
      isFit(minute, coolest)
    )
      turn = coolest
    const sinceMin = atMin - onSinceMin
    if (wasTrue && sinceMin < dayMin)
      periodMin = periodMin === null ? sinceMin : periodMin + 0.2 * (sinceMin - periodMin)
    // A short doubt in the middle of heating is no new beginning.
    if (isOn !== false || wasTrue) {
      onSinceMin = atMin
      onFromC = coolest.tempC
      warmest = { tempC: minute.waterC, atMin }
    }
    isOn = true
  }

  function switchOff(minute: CycleMinute): void {
    const { atMin } = minute
    const rose = warmest.tempC - onFromC > leastStrokeK
    turn = null
    if (isOn === true && warmest.atMin - minute.movedMin > upperAfterMin && rose && isFit(minute, warmest))
      turn = warmest
    isOn = false
    offSinceMin = atMin
    offFromC = warmest.tempC
    coolest = { tempC: minute.waterC, atMin }
  }

  return {
    step(minute) {
      const { atMin, waterC, onFrac } = minute
      if (minute.isMoving) {
        turn = null
        coolest = { tempC: Number.POSITIVE_INFINITY, atMin }
        warmest = { tempC: Number.NEGATIVE_INFINITY, atMin }
      } else {
        if (waterC < coolest.tempC) coolest = { tempC: waterC, atMin }
        if (waterC > warmest.tempC) warmest = { tempC: waterC, atMin }
      }
      confirm(minute)
      if (onFrac > sureOn && isOn !== true) switchOn(minute)
      else if (onFrac < sureOff && isOn !== false) switchOff(minute)
    },
    lower: () => lower,
    upper: () => upper,
    isOn: () => isOn,
    offSinceMin: () => offSinceMin,
    onSinceMin: () => onSinceMin,
    onFromC: () => onFromC,
    offFromC: () => offFromC,
    periodMin: () => periodMin,
    followedK: () => followed,
    wanderedK(nowMin) {
      // Edges wander over days: once an hour is often enough.
      if (nowMin - wandered.atMin >= 60) wandered = { atMin: nowMin, byK: wanderedK(lowers, uppers, nowMin) }
      return wandered.byK
    },
    forget() {
      lowers.length = 0
      uppers.length = 0
      lower = null
      upper = null
      wandered = { atMin: -1e9, byK: null }
      followed = 0
    }
  }
}
