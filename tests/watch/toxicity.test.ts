import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mayWake } from '../../services/notify/quiet-hours.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { TapWater } from '../../services/tank/profile.ts'
import type { TestValue } from '../../services/tank/test-value.ts'
import { judgeAmmoniaUnsafe } from '../../services/watch/ammonia-unsafe.ts'
import { judgeChlorinePresent } from '../../services/watch/chlorine-present.ts'
import { judgeFilterStopped } from '../../services/watch/filter-off.ts'
import type { Judged } from '../../services/watch/judged.ts'
import { judgeNitriteUnsafe, nitriteLimits } from '../../services/watch/nitrite-unsafe.ts'
import { judgeProbeImplausible, type ProbeSaid } from '../../services/watch/probe-implausible.ts'
import { judgeTemperatureSwing } from '../../services/watch/temperature-swing.ts'
import { judgeTestOverdue } from '../../services/watch/test-overdue.ts'
import { nitriteTier } from '../../services/water/toxicity-tiers.ts'
import { event } from '../tank/a-profile.ts'

const why = (judged: Judged): string =>
  judged === null ? 'nothing' : judged === 'cannot-tell' ? judged : judged.because
const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs

describe('toxic ammonia by its tiers', () => {
  const cases = [
    { value: 0.02, sinceH: 30, trend: 0, stood: false, found: 'nothing' },
    { value: 0.03, sinceH: 23, trend: 0, stood: false, found: 'nothing' },
    { value: 0.03, sinceH: 24, trend: 0, stood: false, found: 'above-watch-tier-for-a-day' },
    { value: 0.051, sinceH: 0, trend: 0, stood: false, found: 'beyond-act-tier' },
    { value: 0.045, sinceH: 1, trend: 0, stood: true, found: 'beyond-act-tier' },
    // What stands for its length is not called beyond a limit that it is under.
    { value: 0.045, sinceH: 24, trend: 0, stood: true, found: 'above-watch-tier-for-a-day' },
    { value: 0.12, sinceH: 1, trend: 0, stood: true, found: 'beyond-act-tier' },
    { value: 0.12, sinceH: 1, trend: 0.02, stood: true, found: 'high-and-rising' },
    { value: 0.21, sinceH: 1, trend: -0.1, stood: true, found: 'beyond-emergency-tier' },
    { value: null, sinceH: 1, trend: 0, stood: true, found: 'cannot-tell' }
  ]
  test.each(cases)(
    '$value mg/L for $sinceH h, $trend an hour: $found',
    ({ value, sinceH, trend, stood, found }) => {
      const nh3 = { value, low: null, high: null, from: {}, asOfMs: null }
      const aboveWatchSinceMs = sinceH === 0 ? null : 0
      const given = {
        nh3,
        deadbandMgL: 0.01,
        stood,
        aboveWatchSinceMs,
        trendPerHour: trend,
        nowMs: sinceH * hourMs
      }
      expect(why(judgeAmmoniaUnsafe(given))).toBe(found)
    }
  )
})

describe('nitrite with the chloride rule', () => {
  test('the limits say of every amount what the tiers of the formula say', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.option(fc.double({ min: 0, max: 200, noNaN: true }), { nil: null }),
        (nitriteMgLAsN, chlorideMgL) => {
          const limits = nitriteLimits(chlorideMgL)
          const by = nitriteTier({ nitriteMgLAsN, ...(chlorideMgL === null ? {} : { chlorideMgL }) })
          if (!by.ok) return false
          const is = (limit: number): boolean => nitriteMgLAsN > limit
          const tier = by.value.tier
          // On the very limit either answer will do; beyond it there is one.
          const near = [limits.watch, limits.act, limits.emergency].some(
            (limit) => Math.abs(nitriteMgLAsN - limit) < 1e-9
          )
          if (near) return true
          if (is(limits.emergency)) return tier === 'emergency'
          if (is(limits.act)) return tier === 'act'
          return is(limits.watch) ? tier === 'watch' : tier === 'fine'
        }
      ),
      { numRuns: 2000 }
    )
  })
  const cases = [
    { value: 0.3, chlorideMgL: null, found: 'nothing' },
    { value: 0.31, chlorideMgL: null, found: 'beyond-act-tier' },
    { value: 1.1, chlorideMgL: null, found: 'beyond-emergency-tier' },
    { value: 0.5, chlorideMgL: 10, found: 'nothing' },
    { value: 1.5, chlorideMgL: 20, found: 'beyond-act-tier' },
    { value: 0.2, chlorideMgL: 0.3, found: 'beyond-act-tier' },
    { value: 0.5, chlorideMgL: 1, found: 'beyond-emergency-tier' },
    { value: null, chlorideMgL: null, found: 'cannot-tell' }
  ]
  test.each(cases)('$value mg N/L at $chlorideMgL mg Cl/L: $found', ({ value, chlorideMgL, found }) => {
    const nitrite = { value, low: null, high: null, asOfMs: null }
    expect(
      why(judgeNitriteUnsafe({ nitrite, chlorideMgL, saltG: null, deadbandMgL: 0.03, stood: false }))
    ).toBe(found)
  })
})

describe('chlorine', () => {
  const tap: TapWater = { disinfectant: 'chlorine' }
  const shows = (value: number, atMs: number): TestValue => ({
    ...{ atMs, value, low: value / 2, high: value * 1.5, atLeast: false, atMost: false }
  })
  const bare = event(0, 'water-changed', { fraction: 0.3, conditioner: false })
  const silent = event(0, 'water-changed', { fraction: 0.3 })
  const treated = event(10 * minuteMs, 'conditioner-added')
  const cases: readonly Readonly<{
    name: string
    test?: TestValue
    events: readonly TankEvent[]
    tap?: TapWater
    nowMs?: number
    found: string
  }>[] = [
    { name: 'a test shows 0.1', test: shows(0.1, 0), events: [], found: 'test-shows-chlorine' },
    { name: 'a test shows 0.01', test: shows(0.01, 0), events: [], found: 'nothing' },
    { name: 'conditioner after the test', test: shows(0.1, 0), events: [treated], found: 'nothing' },
    { name: 'a day after the test', test: shows(0.1, 0), events: [], nowMs: dayMs, found: 'nothing' },
    { name: 'a change told as untreated', events: [bare], found: 'change-without-conditioner' },
    {
      name: 'untreated, tap without chlorine',
      events: [bare],
      tap: { disinfectant: 'none' },
      found: 'nothing'
    },
    { name: 'a change of which nothing was said', events: [silent], found: 'nothing' },
    { name: 'untreated, then conditioner', events: [bare, treated], found: 'nothing' },
    {
      name: 'untreated, conditioner told for the same minute',
      events: [bare, event(0, 'conditioner-added')],
      found: 'nothing'
    },
    {
      name: 'untreated, then a test that shows none',
      test: shows(0, 20 * minuteMs),
      events: [bare],
      found: 'nothing'
    }
  ]
  test.each(cases)('$name: $found', (one) => {
    const given = {
      test: one.test,
      events: one.events,
      tap: one.tap ?? tap,
      nowMs: one.nowMs ?? 30 * minuteMs
    }
    expect(why(judgeChlorinePresent(given))).toBe(one.found)
  })
})

describe('a swing of the temperature', () => {
  const cases = [
    { tempC: 22.4, hourC: [24.5, 24.5, 23], stood: false, found: 'fell-fast' },
    { tempC: 22.6, hourC: [24.5, 24.5, 23], stood: false, found: 'nothing' },
    { tempC: 22.9, hourC: [24.5, 24.5, 23], stood: true, found: 'fell-fast' },
    { tempC: 27, hourC: [24.5], stood: false, found: 'rose-fast' },
    { tempC: 20, hourC: [], stood: false, found: 'cannot-tell' },
    { tempC: null, hourC: [24.5], stood: false, found: 'cannot-tell' }
  ]
  test.each(cases)('$tempC after $hourC (stood: $stood): $found', ({ tempC, hourC, stood, found }) => {
    expect(why(judgeTemperatureSwing({ tempC, hourC, deadbandK: 0.5, stood }))).toBe(found)
  })
})

describe('a probe that cannot be believed', () => {
  const fine: ProbeSaid = {
    ...{ quantity: 'temperature', lastMs: 0, lastGoodMs: 0, badSinceMs: null, median: 24.5, beside: null }
  }
  const beside = { probe: 't2', median: 22.9 }
  const cases: readonly Readonly<{ name: string; said: ProbeSaid; found: string }>[] = [
    { name: 'good values', said: fine, found: 'nothing' },
    { name: 'nine minutes of 85', said: { ...fine, badSinceMs: 11 * minuteMs }, found: 'nothing' },
    {
      name: 'ten minutes of 85',
      said: { ...fine, badSinceMs: 10 * minuteMs },
      found: 'only-impossible-values'
    },
    { name: '1.6 K beside its neighbour', said: { ...fine, beside }, found: 'disagrees-with-neighbour' },
    { name: '1.4 K beside it', said: { ...fine, beside: { ...beside, median: 23.1 } }, found: 'nothing' }
  ]
  test.each(cases)('$name: $found', ({ said, found }) => {
    expect(
      why(judgeProbeImplausible({ said: [said], nowMs: 20 * minuteMs, deadband: 0.3, stood: false }))
    ).toBe(found)
  })
})

describe('a filter that was switched off for a moment', () => {
  const off = event(0, 'filter-stopped')
  const cases = [
    { name: '29 minutes', events: [off], minutes: 29, found: 'nothing' },
    { name: '30 minutes', events: [off], minutes: 30, found: 'off-for-half-an-hour' },
    { name: 'an hour', events: [off], minutes: 60, found: 'off-for-an-hour' },
    { name: 'two hours', events: [off], minutes: 120, found: 'off-for-two-hours' },
    { name: 'a minute short of a day', events: [off], minutes: 1439, found: 'off-for-two-hours' },
    { name: 'a day', events: [off], minutes: 1440, found: 'off-for-a-day' },
    { name: 'two weeks', events: [off], minutes: 14 * 1440, found: 'off-for-a-day' },
    {
      name: 'on again after two days',
      events: [off, event(2880 * minuteMs, 'filter-started')],
      minutes: 2881,
      found: 'nothing'
    },
    { name: 'on again', events: [off, event(minuteMs, 'filter-started')], minutes: 120, found: 'nothing' }
  ]
  test.each(cases)('$name: $found', ({ events, minutes, found }) => {
    expect(why(judgeFilterStopped({ events, hasFish: true, nowMs: minutes * minuteMs }))).toBe(found)
  })
  test.each([false, true])('after a day it is no reason to wake anybody; with fish: %s', (hasFish) => {
    const nowMs = 26 * hourMs
    const finding = judgeFilterStopped({ events: [off], hasFish, nowMs })
    if (finding === null || finding === 'cannot-tell') throw new Error('nothing found')
    expect(mayWake({ priority: 'medium', finding }, { nowMs, quietEndMs: nowMs + 6 * hourMs })).toBe(false)
  })
  test.each([
    [30, 1.5],
    [60, 1],
    [120, 0],
    [600, 0]
  ])(
    'after %d minutes its bacteria have %d hours, so that it may wake somebody at night',
    (minutes, hours) => {
      const nowMs = minutes * minuteMs
      const finding = judgeFilterStopped({ events: [off], hasFish: true, nowMs })
      if (finding === null || finding === 'cannot-tell') throw new Error('nothing found')
      expect(finding.hoursLeft).toBeCloseTo(hours)
      const quietEndMs = nowMs + 6 * hourMs
      expect(mayWake({ priority: 'high', finding }, { nowMs, quietEndMs })).toBe(true)
      const empty = judgeFilterStopped({ events: [off], hasFish: false, nowMs })
      if (empty === null || empty === 'cannot-tell') throw new Error('nothing found')
      expect(mayWake({ priority: 'low', finding: empty }, { nowMs, quietEndMs })).toBe(false)
    }
  )
})

describe('a test that is overdue', () => {
  const cases = [
    {
      name: 'new fish, tested a day ago',
      everyMs: dayMs,
      ammoniaD: 9,
      nitriteD: 9,
      nowD: 10,
      found: 'nothing'
    },
    {
      name: 'new fish, 36 h ago',
      everyMs: dayMs,
      ammoniaD: 8.4,
      nitriteD: 9,
      nowD: 10,
      found: 'last-test-too-long-ago'
    },
    {
      name: 'new fish, never',
      everyMs: dayMs,
      ammoniaD: null,
      nitriteD: null,
      nowD: 0.6,
      found: 'never-tested'
    },
    {
      name: 'new fish, never, half a day',
      everyMs: dayMs,
      ammoniaD: null,
      nitriteD: null,
      nowD: 0.4,
      found: 'nothing'
    },
    { name: 'dry', everyMs: null, ammoniaD: null, nitriteD: null, nowD: 50, found: 'nothing' }
  ]
  test.each(cases)('$name: $found', ({ everyMs, ammoniaD, nitriteD, nowD, found }) => {
    const at = (days: number | null): number | null => (days === null ? null : days * dayMs)
    const given = {
      everyMs,
      ammoniaMs: at(ammoniaD),
      nitriteMs: at(nitriteD),
      dueSinceMs: 0,
      nowMs: nowD * dayMs
    }
    expect(why(judgeTestOverdue(given))).toBe(found)
  })

  const overdue = (given: Readonly<{ ammoniaD: number | null; nitriteD: number | null; dueD: number }>) => {
    const at = (days: number | null): number | null => (days === null ? null : days * dayMs)
    return judgeTestOverdue({
      everyMs: dayMs,
      ammoniaMs: at(given.ammoniaD),
      nitriteMs: at(given.nitriteD),
      dueSinceMs: given.dueD * dayMs,
      nowMs: 100 * dayMs
    })
  }
  test('tells the true age of a test that was long ago when the fish came', () => {
    expect(overdue({ ammoniaD: 70, nitriteD: 99.8, dueD: 99 })).toMatchObject({
      because: 'last-test-too-long-ago',
      value: 30,
      sinceMs: 99 * dayMs,
      facts: { quantity: 'ammonia' }
    })
  })
  test('names what was never tested by itself, beside what was tested long ago', () => {
    expect(overdue({ ammoniaD: 70, nitriteD: null, dueD: 90 })).toMatchObject({
      because: 'never-tested',
      facts: { quantity: 'nitrite' }
    })
    expect(overdue({ ammoniaD: null, nitriteD: 70, dueD: 90 })).toMatchObject({
      because: 'never-tested',
      facts: { quantity: 'ammonia' }
    })
    expect(overdue({ ammoniaD: null, nitriteD: null, dueD: 90 })).toMatchObject({
      facts: { quantity: 'ammonia and nitrite' }
    })
  })
})
