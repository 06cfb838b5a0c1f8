import { describe, expect, test } from 'vitest'
import { makeDryProbe } from '../../services/watch/heater/dry-probe.ts'
import { heaterPrior } from '../../services/watch/heater/heater-prior.ts'
import { liveHeated, reasonsOf } from './heated-tank.ts'

const tank = { volumeL: 60, watts: 100, setpointC: 25 }
const breaksAtMin = 6 * 1440

describe('a thermostat that wanders', () => {
  /** By 0.4 K a day from the seventh day on. */
  const wander = (perDayK: number): readonly string[] => {
    const reasons = new Set<string>()
    liveHeated({
      tank,
      days: 9.5,
      roomC: () => 19,
      zeroK: (at) => (at < breaksAtMin ? 0 : (perDayK * (at - breaksAtMin)) / 1440),
      each: (verdict) => {
        for (const reason of reasonsOf(verdict)) reasons.add(reason)
      }
    })
    return [...reasons]
  }
  test.each([-0.4, 0.4])(
    'is named, and not taken for dead or stuck, when it moves by %f K a day',
    (perDayK) => {
      expect(wander(perDayK)).toEqual(['thermostat-wanders'])
    }
  )
  test('one that stays where it is is not named', () => {
    expect(wander(0)).toEqual([])
  })
})

describe('a room as warm as the setpoint, in which the thermostat was hardly ever seen', () => {
  const faint = { volumeL: 80, watts: 50, setpointC: 24 }
  const warmRoomC = 24.6
  const live = (given: Readonly<{ stuck: boolean; roomC: (at: number) => number }>): readonly string[] => {
    const reasons = new Set<string>()
    liveHeated({
      tank: faint,
      days: 7,
      roomC: given.roomC,
      heats: ({ at, asks }) => (given.stuck && at >= breaksAtMin) || asks,
      each: (verdict) => {
        for (const reason of reasonsOf(verdict)) reasons.add(reason)
      }
    })
    return [...reasons]
  }
  test('heat that begins at once is a heater that sticks', () => {
    expect(live({ stuck: true, roomC: () => warmRoomC })).toEqual(['above-band-and-heat-goes-on'])
  })
  test('as much warmth that comes with the weather is none', () => {
    // As far as the heater would lift it, in three hours (e-folding), as rooms do (common practice, no source).
    const weather = (at: number): number =>
      at < breaksAtMin ? warmRoomC : warmRoomC + 6 * (1 - Math.exp((breaksAtMin - at) / 180))
    expect(live({ stuck: false, roomC: weather })).toEqual([])
  })
})

describe('sun that reaches the tank while the heater may be on', () => {
  // A watt a litre, as in full sun (common practice, no source), for four hours; the heater is a quarter stronger.
  const strong = { volumeL: 60, watts: 75, setpointC: 25 }
  const fullSunK = 1 / 1.161
  const coolingH = heaterPrior(strong)?.coolingH ?? Number.NaN
  test.each([9, 10, 11, 13])('is no heater that sticks, from %i o’clock', (fromHour) => {
    const reasons = new Set<string>()
    liveHeated({
      tank: strong,
      days: 7,
      roomC: (at) => {
        const hour = at / 60 - 6 * 24
        return 20 + (hour >= fromHour && hour < fromHour + 4 ? fullSunK * coolingH : 0)
      },
      each: (verdict) => {
        for (const reason of reasonsOf(verdict)) reasons.add(reason)
      }
    })
    expect([...reasons]).toEqual([])
  })
})

describe('a probe that falls out of the water', () => {
  const fallsAtMin = 4 * 1440 + 120
  /** Newton's law of cooling with four minutes, as a steel sleeve in still air (common practice, no source). */
  const inAir = (at: number, fromC: number): number =>
    at < fallsAtMin ? fromC : 19 + (fromC - 19) * Math.exp((fallsAtMin - at) / 4)

  test('is told as such, and its heater is left out of it; back in the water both are well', () => {
    const reasons = new Set<string>()
    const inAirAt: number[] = []
    const backAtMin = fallsAtMin + 300
    liveHeated({
      tank,
      days: 5,
      roomC: () => 19,
      feltC: ({ at, waterC }) => (at < backAtMin ? inAir(at, waterC) : waterC),
      each: (verdict, { at }) => {
        for (const reason of reasonsOf(verdict)) reasons.add(reason)
        if (verdict.probeInAir !== null && verdict.probeInAir !== 'cannot-tell') inAirAt.push(at)
      }
    })
    expect([...reasons]).toEqual([])
    expect(inAirAt[0]).toBeGreaterThan(fallsAtMin)
    expect(inAirAt[0]).toBeLessThan(fallsAtMin + 40)
    expect(inAirAt.at(-1)).toBeGreaterThan(backAtMin - 5)
    expect(inAirAt.at(-1)).toBeLessThan(backAtMin + 15)
  })
  test('cold water that is poured in for ten minutes is none, and a heater left unplugged then is told', () => {
    const reasons = new Set<string>()
    let inAirOnce = false
    const pouredK = (at: number): number => 4 * Math.min(1, Math.max(0, (at - fallsAtMin) / 10))
    liveHeated({
      tank,
      days: 5,
      roomC: () => 19,
      heats: ({ at, asks }) => at < fallsAtMin && asks,
      feltC: ({ at, waterC }) => waterC - pouredK(at),
      each: (verdict) => {
        for (const reason of reasonsOf(verdict)) reasons.add(reason)
        inAirOnce ||= verdict.probeInAir !== null && verdict.probeInAir !== 'cannot-tell'
      }
    })
    expect(inAirOnce).toBe(false)
    expect([...reasons]).toContain('no-heat-after-change')
  })
  test.each([
    ['as things cool in air', (min: number) => 25 - 6 * (1 - Math.exp(-min / 4)), true],
    ['evenly, as water is poured in', (min: number) => 25 - 0.6 * Math.min(10, min), false],
    [
      'as things cool in air, but not to where the room is',
      (min: number) => 25 - 1.3 * (1 - Math.exp(-min / 4)),
      false
    ]
  ])('the shape of a fall tells: %s', (_, shownC, dry) => {
    const probe = makeDryProbe()
    for (let at = 0; at <= 60; at += 1) {
      const waterC = at < 20 ? 25 : shownC(at - 20)
      probe.step({ atMin: at, waterC, settledC: at === 50 ? waterC : null, everyMin: 1, roomlikeC: 19 })
    }
    expect(probe.fall() !== null).toBe(dry)
  })
})
