import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { stepFor } from '../../services/store/series.ts'
import type { SeriesAsk } from '../../services/tank/record.ts'
import { type KitchenRecord, nightMs, openKitchen, reading } from './kitchen.ts'

const minuteMs = 60_000
const hourMs = 3_600_000
const dayMs = 24 * hourMs
const hourStartMs = Math.floor(nightMs / hourMs) * hourMs

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

const series = (ask: Partial<SeriesAsk>) =>
  record.ask('series', {
    tankId: 'kitchen',
    quantity: 'temperature',
    fromMs: hourStartMs,
    toMs: hourStartMs + hourMs - 1,
    points: 1000,
    ...ask
  })
const everySecond = (count: number, more: Parameters<typeof reading>[0] = {}): void => {
  record.ask(
    'appendReadings',
    Array.from({ length: count }, (_, index) =>
      reading({ atMs: hourStartMs + index * 1000, value: 20 + (index % 60) / 10, ...more })
    )
  )
}

describe('the level of a series', () => {
  it.each([
    ['a minute', { rangeMs: minuteMs, points: 100 }, 1000],
    ['an hour', { rangeMs: hourMs, points: 1000 }, 4000],
    ['a day', { rangeMs: dayMs, points: 1000 }, 2 * minuteMs],
    ['a month', { rangeMs: 30 * dayMs, points: 1000 }, 44 * minuteMs],
    ['a year', { rangeMs: 365 * dayMs, points: 1000 }, 9 * hourMs],
    ['a year in a few points', { rangeMs: 365 * dayMs, points: 12 }, 730 * hourMs]
  ])('is the coarsest that still gives the points for %s', (_name, { rangeMs, points }, stepMs) => {
    expect(stepFor({ fromMs: 0, toMs: rangeMs, points })).toBe(stepMs)
    expect(rangeMs / stepMs).toBeLessThanOrEqual(points)
  })

  it('shows readings as they are where they are few, with their usual distance as the step', () => {
    everySecond(50)
    const answer = series({})
    expect(answer.points).toHaveLength(50)
    expect(answer.stepMs).toBe(1000)
    expect(answer.points[3]).toEqual({
      atMs: hourStartMs + 3000,
      mean: 20.3,
      min: 20.3,
      max: 20.3,
      count: 1,
      countBad: 0,
      flag: 1
    })
  })

  it('gathers readings that are too many into whole seconds', () => {
    everySecond(3600)
    const answer = series({})
    expect(answer.stepMs).toBe(4000)
    expect(answer.points).toHaveLength(900)
    expect(answer.points[0]).toMatchObject({ count: 4, min: 20, max: 20.3 })
    expect(answer.points[0]?.mean).toBeCloseTo(20.15, 12)
  })

  it('gathers minutes, and hours, into the same sums', () => {
    everySecond(3600)
    const minutes = series({ points: 30 })
    expect(minutes.stepMs).toBe(2 * minuteMs)
    expect(minutes.points).toHaveLength(30)
    expect(minutes.points.every(({ count }) => count === 120)).toBe(true)
    const day = series({ fromMs: hourStartMs - dayMs, toMs: hourStartMs + dayMs, points: 24 })
    expect(day.stepMs).toBe(2 * hourMs)
    expect(day.points).toHaveLength(1)
    expect(day.points[0]).toMatchObject({ count: 3600, min: 20, max: 25.9 })
    expect(day.points[0]?.mean).toBeCloseTo(22.95, 9)
  })

  it('rounds down to its steps also before 1970', () => {
    record.ask('appendReadings', [reading({ atMs: -90_000 }), reading({ atMs: 90_000 })])
    const answer = series({ fromMs: -hourMs, toMs: hourMs, points: 24 })
    expect(answer.points.map(({ atMs }) => atMs)).toEqual([-5 * minuteMs, 0])
  })

  it('leaves a gap a gap', () => {
    everySecond(60)
    everySecond(60, {})
    record.ask('appendReadings', [reading({ atMs: hourStartMs + 40 * minuteMs })])
    const answer = series({ points: 60 })
    expect(answer.points.map(({ atMs }) => (atMs - hourStartMs) / minuteMs)).toEqual([0, 40])
  })

  it('keeps failed readings out of the mean and shows them as counted', () => {
    record.ask('appendReadings', [
      reading({ atMs: hourStartMs, value: 24 }),
      reading({ atMs: hourStartMs + 1000, value: -127, flag: 4 })
    ])
    expect(series({}).points[1]).toEqual({
      atMs: hourStartMs + 1000,
      mean: null,
      min: null,
      max: null,
      count: 0,
      countBad: 1,
      flag: 4
    })
    expect(series({ points: 60 }).points).toEqual([
      { atMs: hourStartMs, mean: 24, min: 24, max: 24, count: 1, countBad: 1, flag: 4 }
    ])
  })

  it('answers the leading probe, or the one that is named', () => {
    record.ask('appendReadings', [
      reading({ probe: 'first', value: 24, atMs: hourStartMs }),
      reading({ probe: 'second', value: 30, atMs: hourStartMs })
    ])
    const second = record.ask('probes', 'kitchen').find(({ name }) => name === 'second')
    expect(series({}).points[0]?.mean).toBe(24)
    expect(series({ probe: 'second' }).points[0]?.mean).toBe(30)
    expect(series({ probe: second?.id ?? '' }).points[0]?.mean).toBe(30)
    expect(series({ probe: 'third' }).points).toEqual([])
  })
})

describe('derived series', () => {
  const points = (count: number, value: number) =>
    Array.from({ length: count }, (_, index) => ({
      atMs: hourStartMs + index * minuteMs,
      value,
      low: value / 2,
      high: value * 2
    }))
  const replace = (count: number, value: number, revise: boolean, fromMs = hourStartMs) =>
    record.ask('replaceDerived', {
      tankId: 'kitchen',
      quantity: 'nh3',
      fromMs,
      toMs: fromMs + count * minuteMs - 1,
      points: points(180, value).filter(({ atMs }) => atMs >= fromMs && atMs < fromMs + count * minuteMs),
      revise
    })

  it('give value, low and high as mean, min and max', () => {
    expect(replace(60, 0.02, false)).toEqual({ revision: 0 })
    const answer = series({ quantity: 'nh3', points: 100 })
    expect(answer).toMatchObject({ revision: 0, stepMs: minuteMs })
    expect(answer.points).toHaveLength(60)
    expect(answer.points[0]).toMatchObject({ mean: 0.02, min: 0.01, max: 0.04, count: 1, flag: 1 })
  })

  it('are replaced for a stretch only, and the revision grows with each new judgement', () => {
    replace(180, 0.02, false)
    expect(replace(60, 0.5, true, hourStartMs + hourMs)).toEqual({ revision: 1 })
    expect(replace(60, 0.6, true, hourStartMs + hourMs)).toEqual({ revision: 2 })
    const span = { quantity: 'nh3' as const, fromMs: hourStartMs, toMs: hourStartMs + 3 * hourMs - 1 }
    const fine = series({ ...span, points: 1000 })
    expect(fine.revision).toBe(2)
    expect(fine.points).toHaveLength(180)
    expect(fine.points.map(({ mean }) => mean).filter((mean) => mean === 0.6)).toHaveLength(60)
    const coarse = series({ ...span, points: 3 })
    expect(coarse.stepMs).toBe(hourMs)
    expect(coarse.points.map(({ mean, count }) => [Number(mean?.toFixed(9)), count])).toEqual([
      [0.02, 60],
      [0.6, 60],
      [0.02, 60]
    ])
  })

  it('can be emptied: a stretch that can no longer be known becomes a gap', () => {
    replace(60, 0.02, false)
    record.ask('replaceDerived', {
      tankId: 'kitchen',
      quantity: 'nh3',
      fromMs: 0,
      toMs: hourStartMs * 2,
      points: [],
      revise: true
    })
    expect(series({ quantity: 'nh3' }).points).toEqual([])
    expect(series({ quantity: 'nh3', fromMs: hourStartMs - 1000 * hourMs, points: 10 }).points).toEqual([])
  })
})

describe('series of typed-in tests', () => {
  const test = (atMs: number, result: object) =>
    record.ask('addTest', {
      tankId: 'kitchen',
      takenAtMs: atMs,
      results: [{ quantity: 'ammonia', value: 1, unit: 'mg/L', ...result }],
      by: 'keeper',
      atMs
    })

  it('come as nitrogen whatever the kit counts, one point a result', () => {
    test(hourStartMs, {})
    test(hourStartMs + 1000, { basis: 'N' })
    test(hourStartMs + 2000, { basis: 'NH3', value: 0.5, dilutedTimes: 2 })
    const means = series({ quantity: 'ammonia' }).points.map(({ mean }) => mean)
    // 14.007/18.039 and 14.007/17.031 from the IUPAC 2021 abridged atomic weights N 14.007, H 1.008.
    expect(means[0]).toBeCloseTo(0.77648, 4)
    expect(means[1]).toBe(1)
    expect(means[2]).toBeCloseTo(0.82244, 4)
  })

  it('leave the upper end open above the last step of the kit', () => {
    test(hourStartMs, { basis: 'N', atLeast: true })
    expect(series({ quantity: 'ammonia' }).points[0]).toMatchObject({ mean: 1, max: null, flag: 2 })
  })

  it('stand in for a probe that the tank does not have', () => {
    record.ask('addTest', {
      tankId: 'kitchen',
      takenAtMs: hourStartMs,
      results: [{ quantity: 'ph', value: 6.8, unit: 'pH' }],
      by: 'keeper',
      atMs: hourStartMs
    })
    expect(series({ quantity: 'ph' }).points[0]?.mean).toBe(6.8)
    record.ask('appendReadings', [reading({ probe: 'p1', quantity: 'ph', value: 7.1, atMs: hourStartMs })])
    expect(series({ quantity: 'ph' }).points.map(({ mean }) => mean)).toEqual([7.1])
  })
})
