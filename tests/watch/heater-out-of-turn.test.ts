import { describe, expect, test } from 'vitest'
import { liveHeated, reasonsOf } from './heated-tank.ts'

const tank = { volumeL: 60, watts: 100, setpointC: 25 }
const halfBandK = 0.5

type Health = 'sound' | 'dead' | 'stuck-on'

/** Sound for four days in a room of 19 degC; then, at night, its heater breaks when the water passes `breaksAtC`. */
function live(breaks: Readonly<{ health: Health; whileOn: boolean; breaksAtC: number }>) {
  let health: Health = 'sound'
  let brokeMin: number | null = null
  let found: Readonly<{ because: string; afterMin: number | null; waterC: number }> | null = null
  liveHeated({
    tank,
    days: 6,
    roomC: () => 19,
    heats: ({ at, waterC, asks }) => {
      const passes = breaks.whileOn === asks && Math.abs(waterC - breaks.breaksAtC) < 0.03
      if (at >= 4 * 1440 + 60 && brokeMin === null && passes) {
        health = breaks.health
        brokeMin = at
      }
      return health === 'stuck-on' || (health === 'sound' && asks)
    },
    each: (verdict, { at, waterC }) => {
      const because = reasonsOf(verdict)[0]
      if (because !== undefined)
        found ??= { because, afterMin: brokeMin === null ? null : at - brokeMin, waterC }
    }
  })
  return found as Readonly<{ because: string; afterMin: number | null; waterC: number }> | null
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
