import { describe, expect, test } from 'vitest'
import { makeDice } from '../../services/rehearsal/dice.ts'
import { heaterPrior } from '../../services/watch/heater/heater-prior.ts'
import { makeHeaterWatch } from '../../services/watch/heater/heater-watch.ts'
import { makeHeaterJudge } from '../../services/watch/heater/judge-heater.ts'

const minuteMs = 60_000
/** Midnight: no sun on the tank. */
const startAtMs = 1_790_000_000_000 - (1_790_000_000_000 % (1440 * minuteMs))
const tank = { volumeL: 60, watts: 100, setpointC: 25 }
const roomC = 19
const halfBandK = 0.5
const band = { low: 23, high: 27, dangerLow: 21, dangerHigh: 29, reason: 'setpoint' } as const

type Health = 'sound' | 'dead' | 'stuck-on'

/**
 * A tank by Newton's law of cooling with its thermostat between 24.5 and 25.5 degC, read each minute with the noise of
 * an ordinary sensor. Sound for four days; then, at night, its heater breaks when the water passes `breaksAtC`.
 */
function live(breaks: Readonly<{ health: Health; whileOn: boolean; breaksAtC: number }>) {
  const prior = heaterPrior(tank)
  if (prior === null) throw new Error('this tank has a heater')
  const dice = makeDice('a heater that breaks')
  const watch = makeHeaterWatch(prior, tank.watts)
  const judge = makeHeaterJudge()
  let waterC = 25
  let asks = true
  let health: Health = 'sound'
  let brokeMin: number | null = null
  for (let at = 0; at < 6 * 1440; at += 1) {
    if (waterC > tank.setpointC + halfBandK) asks = false
    if (waterC < tank.setpointC - halfBandK) asks = true
    const passes = breaks.whileOn === asks && Math.abs(waterC - breaks.breaksAtC) < 0.03
    if (at >= 4 * 1440 + 60 && health === 'sound' && passes) {
      health = breaks.health
      brokeMin = at
    }
    const heats = health === 'stuck-on' || (health === 'sound' && asks)
    waterC += ((roomC - waterC) / prior.coolingH + (heats ? prior.heatingPerH : 0)) / 60
    const hour = (at / 60) % 24
    const standing = watch.take({
      atMs: startAtMs + at * minuteMs,
      waterC: Math.round((waterC + 0.03 * dice.normal()) * 16) / 16,
      roomC: null,
      heaterW: null,
      sunMayShine: hour >= 7 && hour < 20
    })
    const { notHeating, stuckOn } = judge(standing, band)
    const found = [notHeating, stuckOn].flatMap((one) =>
      one === null || one === 'cannot-tell' ? [] : one
    )[0]
    if (found === undefined) continue
    return { because: found.because, afterMin: brokeMin === null ? null : at - brokeMin, waterC }
  }
  return null
}

describe('a heater that turns where its thermostat never does', () => {
  test('one that dies in the middle of warming is told while the water is still within its band', () => {
    const found = live({ health: 'dead', whileOn: true, breaksAtC: 25 })
    expect(found?.because).toBe('heat-stopped-short')
    expect(found?.waterC).toBeGreaterThan(tank.setpointC - halfBandK)
    expect(found?.afterMin).toBeLessThan(60)
  })
  test('one that comes on far above its lower edge is told before the water has passed the upper one', () => {
    const found = live({ health: 'stuck-on', whileOn: false, breaksAtC: 25 })
    expect(found?.because).toBe('heat-came-too-warm')
    expect(found?.waterC).toBeLessThan(tank.setpointC + halfBandK)
    expect(found?.afterMin).toBeLessThan(40)
  })
  test('a sound heater is never told', () => {
    expect(live({ health: 'sound', whileOn: true, breaksAtC: 25 })).toBeNull()
  })
})
