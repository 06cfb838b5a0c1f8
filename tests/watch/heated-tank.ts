import { makeDice } from '../../services/rehearsal/dice.ts'
import { heaterPrior } from '../../services/watch/heater/heater-prior.ts'
import { makeHeaterWatch } from '../../services/watch/heater/heater-watch.ts'
import { type HeaterVerdict, makeHeaterJudge } from '../../services/watch/heater/judge-heater.ts'

const minuteMs = 60_000
/** Midnight: no sun on the tank. */
const startAtMs = 1_790_000_000_000 - (1_790_000_000_000 % (1440 * minuteMs))
const halfBandK = 0.5
const band = { low: 23, high: 27, dangerLow: 21, dangerHigh: 29, reason: 'setpoint' } as const

export type Minute = Readonly<{ at: number; waterC: number; asks: boolean }>

/**
 * A tank by Newton's law of cooling with a thermostat half a kelvin around its setpoint, read each minute with the noise
 * of an ordinary sensor. What differs from a sound tank in a steady room is asked for minute by minute.
 */
export function liveHeated(
  given: Readonly<{
    tank: Readonly<{ volumeL: number; watts: number; setpointC: number }>
    days: number
    roomC: (at: number) => number
    /** How far the thermostat's zero has moved. */
    zeroK?: (at: number) => number
    heats?: (minute: Minute) => boolean
    /** What the probe feels, where that is not the water. */
    feltC?: (minute: Minute) => number
    each: (verdict: HeaterVerdict, minute: Minute) => void
  }>
): void {
  const { tank } = given
  const prior = heaterPrior(tank)
  if (prior === null) throw new Error('this tank has a heater')
  const dice = makeDice('a heated tank')
  const watch = makeHeaterWatch(prior, tank.watts)
  const judge = makeHeaterJudge()
  let waterC = tank.setpointC
  let asks = true
  for (let at = 0; at < given.days * 1440; at += 1) {
    const centreC = tank.setpointC + (given.zeroK?.(at) ?? 0)
    if (waterC > centreC + halfBandK) asks = false
    if (waterC < centreC - halfBandK) asks = true
    const minute = { at, waterC, asks }
    const heats = given.heats?.(minute) ?? asks
    waterC += ((given.roomC(at) - waterC) / prior.coolingH + (heats ? prior.heatingPerH : 0)) / 60
    const feltC = given.feltC?.(minute) ?? waterC
    const hour = (at / 60) % 24
    const standing = watch.take({
      atMs: startAtMs + at * minuteMs,
      waterC: Math.round((feltC + 0.03 * dice.normal()) * 16) / 16,
      roomC: null,
      heaterW: null,
      sunMayShine: hour >= 7 && hour < 20
    })
    given.each(judge(standing, band), { at, waterC, asks })
  }
}

/** The reasons of all that was found of the heater, each once, in the order in which they came. */
export function reasonsOf(verdict: HeaterVerdict): readonly string[] {
  return [verdict.notHeating, verdict.stuckOn, verdict.weak].flatMap((one) =>
    one === null || one === 'cannot-tell' ? [] : one.because
  )
}
