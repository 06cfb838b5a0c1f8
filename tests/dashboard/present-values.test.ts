import { describe, expect, test } from 'vitest'
import { presentsOf } from '../../dashboard/view/work-it-out/present-values.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import type { TankProfileBody } from '../../services/contract/tank-profile.ts'

const nowMs = Date.UTC(2026, 2, 10, 12)
const hourMs = 3_600_000
const profile: TankProfileBody = {
  name: 'Kitchen',
  volumeL: 96,
  khDKh: 5,
  tap: { pH: 7.8 },
  kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
  timeZone: 'Europe/Vienna'
}
const reading = {
  value: 7.4,
  unit: 'pH',
  atMs: nowMs,
  flag: 1 as const,
  ageMs: 0,
  trendPerHour: null,
  probe: 'ph1',
  stale: false,
  lastKnown: false,
  everyMs: 60_000
}
const derived = {
  value: null,
  low: null,
  high: null,
  estimated: false,
  asOfMs: null,
  reason: 'no-ammonia-test',
  trendPerHour: null
}
const tested = (canonicalValue: number, ageMs: number) => ({
  value: canonicalValue,
  unit: 'mg/L',
  atMs: nowMs - ageMs,
  canonicalValue
})
type Some = Partial<Pick<NowView, 'readings' | 'tests' | 'derived'>>
const nowWith = (some: Some): NowView =>
  ({
    atMs: nowMs,
    readings: {},
    tests: {},
    derived: { nh3MgL: derived, co2MgL: derived },
    ...some
  }) as unknown as NowView
const nh3 = (from: Record<string, string | number | null>, asOfMs: number | null = null) => ({
  nh3MgL: { ...derived, asOfMs, from },
  co2MgL: derived
})

describe('what a calculation may start from', () => {
  test('a live probe, a fresh test, and what was told for the tank', () => {
    const presents = presentsOf(
      nowWith({ readings: { ph: reading }, tests: { nitrite: tested(0.2, hourMs) } }),
      profile
    )
    expect(presents.ph).toMatchObject({ value: 7.4, from: 'probe', doubt: 0.1 })
    expect(presents.nitrite).toMatchObject({ value: 0.2, from: 'test', atMs: nowMs - hourMs })
    expect(presents.volume).toMatchObject({ value: 96, from: 'told' })
    expect(presents['tap-ph']).toMatchObject({ value: 7.8 })
    expect(presents['tap-nitrate']).toEqual({ value: null, reason: 'not-told' })
  })

  const notPresent = [
    { why: 'stale', ph: { ...reading, stale: true } },
    { why: 'of unknown age', ph: { ...reading, lastKnown: true } },
    { why: 'doubted', ph: { ...reading, flag: 3 as const } },
    { why: 'failed', ph: { ...reading, flag: 4 as const } }
  ]
  test.each(notPresent)('a reading that is $why is no present', ({ ph }) => {
    expect(presentsOf(nowWith({ readings: { ph } }), profile).ph).toEqual({ value: null, reason: 'silent' })
  })

  test('behind a silent probe stands what the watch itself goes on with', () => {
    const readings = { ph: { ...reading, stale: true } }
    const from = { pH: 7.1, pHFrom: 'probe-a-while-ago', tempC: 24, tempFrom: 'setpoint' }
    const presents = presentsOf(nowWith({ readings, derived: nh3(from) }), profile)
    expect(presents.ph).toMatchObject({ value: 7.1, from: 'probe', doubt: 0.3 })
    expect(presents['water-temperature']).toMatchObject({ value: 24, from: 'setpoint', doubt: 2 })
  })

  test('a test older than a week is no present', () => {
    const tests = { nitrite: tested(0.2, 8 * 24 * hourMs) }
    expect(presentsOf(nowWith({ tests }), profile).nitrite).toEqual({ value: null, reason: 'old-test' })
  })

  test('ammonia is what the watch carries on, not the number of the test', () => {
    const atMs = nowMs - 20 * hourMs
    const tests = { ammonia: tested(1, 20 * hourMs) }
    const carried = nowWith({ tests, derived: nh3({ tanMgLAsN: 0.5, tanReason: 'carried-from-test' }, atMs) })
    expect(presentsOf(carried, profile).ammonia).toMatchObject({ value: 0.5, from: 'carried', atMs })
    const bound = nowWith({ tests, derived: nh3({ tanMgLAsN: null, tanReason: 'bound-cannot-tell' }, atMs) })
    expect(presentsOf(bound, profile).ammonia).toEqual({ value: null, reason: 'bound-cannot-tell' })
  })

  test('a test that only says at most says so', () => {
    const tests = { nitrite: { ...tested(0.05, hourMs), atMost: true } }
    expect(presentsOf(nowWith({ tests }), profile).nitrite).toMatchObject({ limit: 'at-most' })
  })

  test('nitrate is counted as NO3, like the report of the water works', () => {
    // IUPAC 2021 masses: 14.007 g N are 62.004 g NO3.
    const nitrate = presentsOf(nowWith({ tests: { nitrate: tested(10, hourMs) } }), profile).nitrate
    expect(nitrate.value).toBeCloseTo((10 * 62.004) / 14.007, 3)
  })
})
