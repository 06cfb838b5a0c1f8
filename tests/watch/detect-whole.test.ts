import { describe, expect, test, vi } from 'vitest'
import type { TimedHappening } from '../../services/rehearsal/happening.ts'
import { type OrdinaryLife, ordinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import type { TankState } from '../../services/rehearsal/tank-state.ts'
import { judgeRings, type WholeRing, wholeFigures } from '../bench/detect-whole.ts'
import { startAtMs } from '../bench/heater-fault.ts'
import { makeTrueWater, type Ring, type TrueWater } from '../bench/true-water.ts'
import { profileOf } from '../bench/water-life.ts'

vi.setConfig({ testTimeout: 60_000 })

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const uneventful = {
  waterChanges: 0,
  windows: 0,
  hotSpells: 0,
  coldSpells: 0,
  powerCuts: 0,
  heatersForgotten: 0,
  filterStops: 0
}

/** Two quiet days of a small tank in a cool room, and what is put into them. */
function lifeWith(...happenings: readonly TimedHappening[]): OrdinaryLife {
  const life = ordinaryLife({
    seed: 'sample whole',
    startAtMs,
    days: 2,
    wish: { volumeL: 40, roomMeanC: 15, everyMs: minuteMs, sizing: 2 },
    year: uneventful
  })
  return { ...life, happenings: [...life.happenings, ...happenings] }
}
const atHour = (hour: number): number => startAtMs + hour * hourMs
const ringsOf = (life: OrdinaryLife): readonly WholeRing[] =>
  judgeRings(life, { seed: 'sample whole', tests: [] })
const cold = (rings: readonly WholeRing[]) => rings.filter(({ kind }) => kind === 'water-cold-danger')

describe('a loud ring counts by what was true', () => {
  test('cold water in a tank whose heater is dead: no false one', () => {
    const rings = ringsOf(
      lifeWith({ atMs: atHour(8), happening: { kind: 'heater', health: { kind: 'dead' } } })
    )
    expect(cold(rings).map(({ isTrue }) => isTrue)).toEqual([true])
    expect(rings.find(({ kind }) => kind === 'heater-not-heating')).toMatchObject({ isTrue: true })
    const figures = wholeFigures([{ seed: 'one', rings }])
    expect(figures).toMatchObject({ falseLoud: { count: 0 }, falses: [] })
    expect(figures.bars[0]?.reached).toBe(true)
  })

  test('a probe that shows far too little in warm water: false ones, and the bar is not reached', () => {
    const fault = { kind: 'fouled', lagFactor: 1, offset: -6 } as const
    const rings = ringsOf(lifeWith({ atMs: atHour(8), happening: { kind: 'probe', name: 't1', fault } }))
    expect(cold(rings).map(({ isTrue }) => isTrue)).toEqual([false])
    const figures = wholeFigures([{ seed: 'one', rings }])
    expect(figures.falseLoud.count).toBeGreaterThan(0)
    expect(figures.falses.join()).toMatch(/^one, minute \d+: .*water-cold-danger, below-danger-limit/)
    expect(figures.bars[0]?.reached).toBe(false)
    expect(figures.bars[0]?.why).toContain('1 water-cold-danger (below-danger-limit)')
  })

  test('a probe that shows a little too little in cooling water rings early: false, near, and soon true', () => {
    const fault = { kind: 'fouled', lagFactor: 1, offset: -0.4 } as const
    const life = lifeWith(
      { atMs: atHour(8), happening: { kind: 'heater', health: { kind: 'dead' } } },
      { atMs: atHour(8), happening: { kind: 'probe', name: 't1', fault } }
    )
    const { probes } = life.description
    const sound = { ...life.description, probes: probes.map((one) => ({ ...one, offset: 0 })) }
    const [one] = cold(ringsOf({ ...life, description: sound }))
    expect(one).toMatchObject({ isTrue: false, isNear: true, isEarly: true })
  })

  test('a power cut that was one', () => {
    const rings = ringsOf({
      ...lifeWith(
        { atMs: atHour(8), happening: { kind: 'mains', on: false } },
        { atMs: atHour(9), happening: { kind: 'mains', on: true } }
      ),
      truths: [{ kind: 'power-cut', fromMs: atHour(8), toMs: atHour(9), told: false }]
    })
    expect(rings).toMatchObject([{ kind: 'power-cut', isTrue: true }])
  })
})

const { description } = lifeWith()
const profile = profileOf(description, { fish: true })
const sound = {
  tempC: 25,
  pH: 7.4,
  khDKh: 5,
  tanMgLAsN: 0.01,
  nitriteMgLAsN: 0.01,
  nitrificationAcidMeq: 0,
  volumeL: 40
}
type Known = typeof sound

/** Water that lived through so many hours as told, hour by hour. */
function waterThrough(hours: number, at: (hour: number) => Partial<Known>): TrueWater {
  const water = makeTrueWater({ description, profile })
  for (let minute = 0; minute < hours * 60; minute += 1) {
    const known = { ...sound, ...at(Math.floor(minute / 60)) }
    water.take({ ...known, atMs: startAtMs + minute * minuteMs } as TankState)
  }
  return water
}
const ring = (kind: Ring['kind'], because: string, hours: number): Ring => ({
  kind,
  because,
  atMs: atHour(hours) - minuteMs
})

describe('what the water was bears an alarm out, or does not', () => {
  const hours = 10 * 24
  const last = (change: Partial<Known>) => (hour: number) => (hour === hours - 1 ? change : {})
  const lately = (change: Partial<Known>) => (hour: number) => (hour >= hours - 36 ? change : {})
  // Each limit as the condition of its alarm states it; at pH 8 and 25 °C 5.38 % of total ammonia is toxic (Emerson et al. 1975, table).
  test.each<
    readonly [Ring['kind'], string, (hour: number) => Partial<Known>, (hour: number) => Partial<Known>]
  >([
    ['water-cold-danger', 'below-danger-limit', last({ tempC: 19.9 }), last({ tempC: 20.1 })],
    ['water-warm-danger', 'above-danger-limit', last({ tempC: 30.1 }), last({ tempC: 29.9 })],
    ['ph-out-of-band', 'above-band', last({ pH: 8.1 }), last({ pH: 7.9 })],
    ['ph-crash', 'far-below-its-days', last({ pH: 6.4 }), last({ pH: 6.8 })],
    ['ph-falling', 'below-its-days', lately({ pH: 7.15 }), lately({ pH: 7.3 })],
    ['ph-falling', 'dawn-lower-than-any-before', last({ pH: 7.2 }), last({ pH: 7.3 })],
    ['alkalinity-low', 'nearly-gone', last({ khDKh: 0.9 }), last({ khDKh: 1.2 })],
    [
      'ammonia-unsafe',
      'beyond-act-tier',
      last({ pH: 8, tanMgLAsN: 0.05 / 0.0538 / 1.216 + 0.02 }),
      last({ pH: 8, tanMgLAsN: 0.05 / 0.0538 / 1.216 - 0.02 })
    ],
    [
      'ammonia-unsafe',
      'beyond-emergency-tier',
      last({ pH: 8, tanMgLAsN: 0.2 / 0.0538 / 1.216 + 0.08 }),
      last({ pH: 8, tanMgLAsN: 0.2 / 0.0538 / 1.216 - 0.08 })
    ],
    ['nitrite-unsafe', 'beyond-act-tier', last({ nitriteMgLAsN: 0.35 }), last({ nitriteMgLAsN: 0.25 })],
    ['nitrite-unsafe', 'beyond-emergency-tier', last({ nitriteMgLAsN: 1.1 }), last({ nitriteMgLAsN: 0.9 })]
  ])('%s, %s', (kind, because, isSo, isNotSo) => {
    expect(waterThrough(hours, isSo).bearsOut(ring(kind, because, hours))).toBe(true)
    expect(waterThrough(hours, isNotSo).bearsOut(ring(kind, because, hours))).toBe(false)
  })

  test('a hardness that is used up within two days is soon gone; one that lasts a week is not', () => {
    const using = (perDayDKh: number) => (hour: number) => ({
      khDKh: 3 - (perDayDKh * (hour - 24)) / 24,
      // Two acids an ammonium, one of them given back by the ammonia: twice what the hardness loses, in 40 L.
      nitrificationAcidMeq: (2 * perDayDKh * hour * 40 * 20) / 56.077 / 24
    })
    const asked = ring('alkalinity-low', 'gone-within-two-days', 25)
    expect(waterThrough(25, using(1.1)).bearsOut(asked)).toBe(true)
    expect(waterThrough(25, using(0.3)).bearsOut(asked)).toBe(false)
  })

  test('a ring in water as near to its limit as a probe may be off is false, and said to be near', () => {
    const water = waterThrough(2, () => ({ tempC: 20.3 }))
    const cold = ring('water-cold-danger', 'below-danger-limit', 2)
    expect([water.bearsOut(cold), water.bearsOut(cold, 0.5), water.bearsOut(cold, 0.2)]).toEqual([
      false,
      true,
      false
    ])
    const rings = [{ ...cold, atMin: 119, isTrue: false, isNear: true, isEarly: false }]
    const { falseLoud, bars } = wholeFigures([{ seed: 'one', rings }])
    expect(falseLoud.count).toBe(1)
    expect(bars[0]?.why).toMatch(
      /^1 rang in water within 0\.5 °C of the limit.* in 0 of them the water passed/
    )
  })

  test('what the water was long ago bears nothing out, and heaters are none of its business', () => {
    const water = waterThrough(30, (hour) => (hour < 27 ? { tempC: 18 } : {}))
    expect(water.bearsOut(ring('water-cold-danger', 'below-danger-limit', 27))).toBe(true)
    expect(water.bearsOut(ring('water-cold-danger', 'below-danger-limit', 30))).toBe(false)
    expect(water.bearsOut(ring('chlorine-present', 'change-without-conditioner', 30))).toBe(false)
    expect(water.bearsOut(ring('heater-not-heating', 'below-band-and-no-heat', 30))).toBeNull()
  })
})
