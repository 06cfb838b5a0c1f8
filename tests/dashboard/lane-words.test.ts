import { describe, expect, test } from 'vitest'
import { grownOld, type LaneName, laneFacts } from '../../dashboard/chart/lane-facts.ts'
import { withinUsualSwing } from '../../dashboard/chart/usual-swing.ts'
import { laneWords } from '../../dashboard/words/lane-words.ts'
import { plainReader } from '../../dashboard/words/reader.ts'
import type { NowView, ReadingNow } from '../../services/contract/now-view.ts'

const nowMs = Date.UTC(2026, 10, 25, 15, 42)
const hourMs = 3_600_000
const reader = { ...plainReader, timeZone: 'Europe/Vienna' }
const unknown = {
  value: null,
  low: null,
  high: null,
  estimated: false,
  asOfMs: null,
  reason: 'no-ammonia-test',
  trendPerHour: null
}
const reading = (more: Partial<ReadingNow> = {}): ReadingNow => ({
  value: 24.56,
  unit: 'Cel',
  atMs: nowMs - 20_000,
  flag: 1,
  ageMs: 20_000,
  trendPerHour: 0.01,
  probe: 't1',
  stale: false,
  lastKnown: false,
  everyMs: 30_000,
  ...more
})
const bands = {
  temperature: { low: 23, high: 26, dangerLow: 20, dangerHigh: 29, reason: 'species' },
  nh3: { low: null, high: 0.02, dangerLow: null, dangerHigh: 0.2, reason: 'long-term-limits-for-fish' },
  nitrite: {
    low: null,
    high: 0.1,
    dangerLow: null,
    dangerHigh: 1,
    reason: 'limits-for-fish-chloride-unknown'
  }
}
const tank = (more: Partial<NowView> = {}): NowView => ({
  atMs: nowMs,
  tankId: 'kitchen',
  name: 'Kitchen',
  stage: 'stocked-new',
  livestock: [{ speciesId: 'puntius-titteya', count: 8 }],
  readings: {},
  derived: { nh3MgL: unknown, co2MgL: unknown },
  tests: {},
  bands,
  alarms: [],
  cycle: null,
  sentence: '',
  verdict: { level: 'well', because: '' },
  next: { step: '', dueAtMs: null, words: '' },
  notices: [],
  spells: [],
  maintenanceUntilMs: null,
  filterOffSinceMs: null,
  virtual: false,
  ...more
})
const told = (lane: LaneName, now: NowView) => laneWords(laneFacts(lane, now, nowMs), nowMs, reader)

describe('a lane fed by a probe', () => {
  test('says value, place, direction and when it was heard', () => {
    const words = told('temperature', tank({ readings: { temperature: reading() } }))
    expect(words.value?.digits).toBe('24.6')
    expect([words.place, words.trend, words.age]).toEqual(['in its lane', 'steady', 'heard 20 s ago'])
    expect([words.bankLow, words.bankHigh]).toEqual(['23.0', '26.0'])
  })
  test('says how long is left until the edge ahead', () => {
    const falling = tank({ readings: { temperature: reading({ value: 24, trendPerHour: -0.5 }) } })
    expect(told('temperature', falling).trend).toBe('falling, 23.0 in about 2 h')
  })
  test('below its band it tells the time to the danger', () => {
    const cold = tank({ readings: { temperature: reading({ value: 22, trendPerHour: -0.4 }) } })
    expect([told('temperature', cold).place, told('temperature', cold).trend]).toEqual([
      'below its lane',
      'falling, 20.0 in about 5 h'
    ])
  })
  test('draws no straight line further than a day', () => {
    const slow = tank({ readings: { temperature: reading({ value: 25.9, trendPerHour: -0.1 }) } })
    expect(told('temperature', slow).trend).toBe('falling 0.1 °C an hour')
  })
  test('three beats without a word make it silent, whatever the house said when last asked', () => {
    const quiet = tank({ readings: { temperature: reading({ atMs: nowMs - 13.5 * hourMs }) } })
    const words = told('temperature', quiet)
    expect([words.place, words.trend, words.age]).toEqual(['silent since 03:12', '', ''])
  })
  test('when the house itself is silent nothing stands as the present any more', () => {
    const steady = tank({ readings: { temperature: reading() } })
    const facts = grownOld(laneFacts('temperature', steady, nowMs))
    const words = laneWords(facts, nowMs, reader)
    expect(facts.stale).toBe(true)
    expect([words.place, words.trend, words.age]).toEqual(['not up to date', '', 'heard 20 s ago'])
  })
  test('a suspect reading keeps its place and is doubted, a failed one has no place', () => {
    const suspect = tank({ readings: { temperature: reading({ value: 27, flag: 3 }) } })
    expect(told('temperature', suspect).place).toBe('above its lane, but this reading is doubted')
    const failed = tank({ readings: { temperature: reading({ value: 85, flag: 4 }) } })
    expect(told('temperature', failed).place).toBe('taken for wrong, not judged')
  })
  test('a probe that stands in for the leading one is named', () => {
    const other = tank({ readings: { temperature: reading({ probe: 't2', standIn: true }) } })
    expect(told('temperature', other).age).toBe('t2 stands in, heard 20 s ago')
  })
  test('a retained value of unknown age is told as last known', () => {
    const old = tank({ readings: { temperature: reading({ lastKnown: true, stale: true }) } })
    expect(told('temperature', old).age).toBe('last known, nobody knows when')
  })
})

describe('toxic ammonia', () => {
  const derived = {
    ...unknown,
    value: 0.018,
    low: 0.0062,
    high: 0.0364,
    estimated: true,
    asOfMs: nowMs - 20 * hourMs
  }
  test('is worded "about", with its span in as many decimals as the value', () => {
    const words = told('nh3', tank({ tests: {}, derived: { nh3MgL: derived, co2MgL: unknown } }))
    expect([words.before, words.value?.digits, words.doubt, words.age]).toEqual([
      'about',
      '0.018',
      '0.006 to 0.036',
      'from the test 20 h ago'
    ])
  })
  test('above the edge it is above its lane; without fish there is no edge', () => {
    const high = { nh3MgL: { ...derived, value: 0.3, low: 0.2, high: 0.4 }, co2MgL: unknown }
    expect(told('nh3', tank({ derived: high })).place).toBe('above its lane')
    const progress = told('nh3', tank({ derived: high, livestock: [], stage: 'fishless-cycling' }))
    expect([progress.place, progress.bankHigh]).toEqual(['no fish, no limit', ''])
  })
  test('without any ammonia test the lane is dry; with an old one it is unknown', () => {
    expect(laneFacts('nh3', tank(), nowMs).source).toBe('none')
    const test = { value: 0.5, unit: 'mg/L', basis: 'N', atMs: nowMs - 90 * hourMs, canonicalValue: 0.5 }
    const old = tank({
      tests: { ammonia: test },
      derived: { nh3MgL: { ...unknown, reason: 'too-old' }, co2MgL: unknown }
    })
    expect(laneFacts('nh3', old, nowMs).source).toBe('unknown')
  })
})

describe('nitrite', () => {
  test('stands in the basis of the kit, its edge too (46.005/14.007, IUPAC 2021)', () => {
    const test = { value: 0.25, unit: 'mg/L', basis: 'NO2', atMs: nowMs - 20 * hourMs, canonicalValue: 0.076 }
    const words = told('nitrite', tank({ tests: { nitrite: test } }))
    expect([words.value?.digits, words.value?.unit, words.bankHigh]).toEqual(['0.25', 'mg/L NO₂', '0.33'])
    expect(words.age).toBe('tested 20 h ago')
  })
  test('more than the last step is told as at least', () => {
    const test = { value: 5, unit: 'mg/L', basis: 'N', atMs: nowMs, canonicalValue: 5, atLeast: true }
    expect(told('nitrite', tank({ tests: { nitrite: test } })).before).toBe('at least')
  })
})

describe('a swing that the day has seen before', () => {
  const falling = tank({ readings: { temperature: reading({ value: 24.2, trendPerHour: -0.4 }) } })
  const facts = laneFacts('temperature', falling, nowMs)
  /** A thermostat: a wave of an hour and a half between two warmths, for so many hours up to now. */
  const swing = (lowC: number, highC: number, hours: number) =>
    Array.from({ length: hours * 12 }, (_, at) => {
      const mean = (lowC + highC) / 2 + ((highC - lowC) / 2) * Math.sin((at / 18) * 2 * Math.PI)
      return { atMs: nowMs - at * 300_000, mean, min: mean, max: mean, flag: 1 }
    }).reverse()

  test('names the edge and the time to it where nothing is known of the day', () => {
    expect(facts.hoursToEdge).toBeCloseTo(3, 9)
    expect(withinUsualSwing(facts, [], nowMs).hoursToEdge).toBeCloseTo(3, 9)
    expect(withinUsualSwing(facts, swing(24, 24.8, 4), nowMs).hoursToEdge).toBeCloseTo(3, 9)
  })
  test('leaves the direction and takes the time to the edge back where the water was as cold today and came back', () => {
    const calm = withinUsualSwing(facts, swing(24, 24.8, 20), nowMs)
    expect(calm).toMatchObject({ direction: 'down', hoursToEdge: null, edge: null })
  })
  test('names it again as soon as the water leaves what the day has seen', () => {
    expect(withinUsualSwing(facts, swing(24.4, 24.8, 20), nowMs).hoursToEdge).toBeCloseTo(3, 9)
  })
})
