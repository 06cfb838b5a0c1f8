import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { makeMinuteSeries, minuteMs } from '../../services/series/minutes.ts'

const startMs = 1_800_000_000_000 - (1_800_000_000_000 % minuteMs)

describe('one day in minutes', () => {
  test('is the same whatever the order and however often a reading comes', () => {
    const reading = fc.record({
      atMs: fc.integer({ min: startMs, max: startMs + 3_600_000 }),
      value: fc.integer({ min: 0, max: 40 })
    })
    fc.assert(
      fc.property(fc.uniqueArray(reading, { selector: (one) => one.atMs, maxLength: 40 }), (readings) => {
        const minutesOf = (list: typeof readings) => {
          const series = makeMinuteSeries()
          for (const one of list) series.add({ ...one, arrivedAtMs: one.atMs })
          return series
            .between({ fromMs: startMs - minuteMs, toMs: startMs + 3_700_000 })
            .map(({ atMs, value }) => ({ atMs, value: Number(value.toFixed(9)) }))
        }
        const doubledBackwards = [...readings, ...readings].reverse()
        expect(minutesOf(doubledBackwards)).toEqual(minutesOf(readings))
      })
    )
  })

  test('holds in the minute that ends at a moment what came in the sixty seconds before it', () => {
    const series = makeMinuteSeries()
    for (const [seconds, value] of [
      [0, 10],
      [1, 20],
      [60, 30],
      [61, 40]
    ] as const)
      series.add({ atMs: startMs + seconds * 1000, value, arrivedAtMs: startMs })
    expect(series.between({ fromMs: startMs - 1, toMs: startMs + 2 * minuteMs })).toEqual([
      { atMs: startMs, value: 10 },
      { atMs: startMs + minuteMs, value: 25 },
      { atMs: startMs + 2 * minuteMs, value: 40 }
    ])
  })

  test('keeps what arrived long after its time out of the fresh minutes, and in the history', () => {
    const series = makeMinuteSeries()
    series.add({ atMs: startMs, value: 12, arrivedAtMs: startMs + 3_600_000 })
    const span = { fromMs: startMs - minuteMs, toMs: startMs }
    expect(series.between(span)).toHaveLength(1)
    expect(series.between({ ...span, fresh: true })).toHaveLength(0)
    expect(series.newestFreshMs(startMs)).toBeNull()
  })

  test('forgets what is older than a day and a half and keeps nothing of it', () => {
    const series = makeMinuteSeries()
    series.add({ atMs: startMs, value: 1, arrivedAtMs: startMs })
    series.add({ atMs: startMs + 2048 * minuteMs, value: 2, arrivedAtMs: startMs + 2048 * minuteMs })
    expect(series.between({ fromMs: startMs - minuteMs, toMs: startMs + 3000 * minuteMs })).toEqual([
      { atMs: startMs + 2048 * minuteMs, value: 2 }
    ])
    expect(series.add({ atMs: startMs, value: 1, arrivedAtMs: startMs })).toBe(false)
  })
})
