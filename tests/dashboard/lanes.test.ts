import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { appendLive, laneColumns, stretchesOf, type TrackPoint } from '../../dashboard/chart/lane-columns.ts'
import { laneScale, placeOnLane } from '../../dashboard/chart/lane-scale.ts'
import { sparseMarks } from '../../dashboard/chart/sparse-marks.ts'

const minuteMs = 60_000
const point = (minute: number, mean: number | null, more: Partial<TrackPoint> = {}): TrackPoint => ({
  atMs: minute * minuteMs,
  mean,
  min: mean,
  max: mean,
  flag: 1,
  ...more
})
const columnsOf = (points: readonly TrackPoint[]) =>
  laneColumns({ points, fromMs: 0, gapMs: 3 * minuteMs, rim: null })

describe('columns of a lane', () => {
  test('a silence stays a gap: the line is broken by a point that is no number', () => {
    const { line } = columnsOf([point(0, 24), point(1, 24.1), point(30, 23.8)])
    expect(line.map(({ y }) => (Number.isNaN(y) ? 'gap' : y))).toEqual([24, 24.1, 'gap', 23.8])
  })
  test('steps that come in their time are joined', () => {
    expect(columnsOf([point(0, 24), point(3, 24.1)]).line).toHaveLength(2)
  })
  test('a suspect step is joined and marked; a failed one is marked beside the line, and its step keeps what was good in it', () => {
    const { line, suspect, failed } = columnsOf([
      point(0, 24),
      point(1, 25, { flag: 3 }),
      point(2, null, { flag: 4 }),
      point(3, 24.1, { flag: 4 }),
      point(4, 24.1, { flag: 9 })
    ])
    expect(line.map(({ y }) => y)).toEqual([24, 25, 24.1])
    expect(suspect).toEqual([{ x: minuteMs, y: 25 }])
    expect(failed).toEqual([
      { x: 2 * minuteMs, y: 25 },
      { x: 3 * minuteMs, y: 24.1 }
    ])
  })
  test('readings that failed before any good one stand at the height of the first good one', () => {
    const { failed } = columnsOf([point(0, null, { flag: 4 }), point(9, 24.4)])
    expect(failed).toEqual([{ x: 0, y: 24.4 }])
  })
  test('a probe that only fails is marked in the middle of its lane, and there is no line', () => {
    const rim = { bottom: 20, top: 26 }
    const points = [point(0, null, { flag: 4 })]
    const { line, failed } = laneColumns({ points, fromMs: 0, gapMs: minuteMs, rim })
    expect(line).toEqual([])
    expect(failed).toEqual([{ x: 0, y: 23 }])
  })
  test('marks close together are one stretch', () => {
    const marks = [0, 5, 10, 200].map((x) => ({ x, y: 24 }))
    expect(stretchesOf(marks, 30)).toBe(2)
  })
  test('of a band of marks those are drawn that can be told apart, and each stretch says its word once', () => {
    const marks = [0, 4, 8, 12, 16, 20, 300].map((x) => ({ x, y: 7 }))
    expect(sparseMarks(marks)).toEqual([
      { x: 0, y: 7, isFirst: true },
      { x: 16, y: 7, isFirst: false },
      { x: 300, y: 7, isFirst: true }
    ])
  })
  test('the spread keeps what was lost to thinning', () => {
    const { low, high, lowest, highest } = columnsOf([point(0, 24, { min: 23.5, max: 24.8 })])
    expect([low[0]?.y, high[0]?.y, lowest, highest]).toEqual([23.5, 24.8, 23.5, 24.8])
  })
  test('what is older than the lane, or empty, is left out', () => {
    const answer = laneColumns({
      points: [point(0, 24), point(1, null), point(2, 24.5)],
      fromMs: minuteMs,
      gapMs: minuteMs * 5,
      rim: null
    })
    expect(answer.line).toEqual([{ x: 2 * minuteMs, y: 24.5 }])
  })
  test('beyond the rim the line runs along it', () => {
    const rim = { bottom: 20, top: 26 }
    const { line } = laneColumns({ points: [point(0, 40), point(1, 2)], fromMs: 0, gapMs: minuteMs * 5, rim })
    expect(line.map(({ y }) => y)).toEqual([26, 20])
  })
})

describe('a live value', () => {
  const step = { stepMs: 5 * minuteMs, keepMs: 60 * minuteMs }
  test('widens the running step and moves its middle', () => {
    const points = appendLive([point(0, 24)], { atMs: 2 * minuteMs, value: 24.6, flag: 1 }, step)
    expect(points).toEqual([point(0, 24.6, { min: 24, max: 24.6 })])
  })
  test('begins a new step when its time has come', () => {
    const points = appendLive([point(0, 24)], { atMs: 6 * minuteMs, value: 24.6, flag: 1 }, step)
    expect(points.map(({ atMs }) => atMs)).toEqual([0, 5 * minuteMs])
  })
  test('that failed leaves its mark and moves nothing; after it the step goes on', () => {
    const failed = appendLive([point(0, 24)], { atMs: minuteMs, value: 85, flag: 4 }, step)
    expect(failed).toEqual([point(0, 24, { flag: 4 })])
    const alone = appendLive([], { atMs: minuteMs, value: 85, flag: 4 }, step)
    expect(alone).toEqual([point(0, null, { flag: 4 })])
    expect(appendLive(alone, { atMs: 2 * minuteMs, value: 24.2, flag: 1 }, step)).toEqual([
      point(0, 24.2, { flag: 4 })
    ])
  })
  test('that is older than the newest step changes nothing', () => {
    const before = [point(30, 24)]
    expect(appendLive(before, { atMs: 2 * minuteMs, value: 9, flag: 1 }, step)).toBe(before)
  })
  test('never makes a track longer than what the lane shows, whatever comes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(3_000_000), fc.double({ noNaN: true })), { maxLength: 300 }),
        (all) => {
          let points: readonly TrackPoint[] = []
          let atMs = 0
          for (const [waitMs, value] of all) {
            atMs += waitMs
            points = appendLive(points, { atMs, value, flag: 1 }, step)
          }
          expect(points.length).toBeLessThanOrEqual(step.keepMs / step.stepMs + 2)
          expect(points.every((one, index) => one.atMs > (points[index - 1]?.atMs ?? -1))).toBe(true)
        }
      )
    )
  })
})

describe('the scale of a lane', () => {
  const band = { low: 23, high: 26, dangerLow: 20, dangerHigh: 29 }
  test('the band stands inside the lane with air on both sides', () => {
    const scale = laneScale({ lane: 'temperature', band, lowest: 24, highest: 25 })
    expect(scale.bottom).toBeLessThan(23)
    expect(scale.top).toBeGreaterThan(26)
    expect(placeOnLane(24.5, scale)).toBeCloseTo(0.5, 6)
  })
  test('a value far outside never makes the band a hair', () => {
    const scale = laneScale({ lane: 'temperature', band, lowest: -127, highest: 85 })
    expect((band.high - band.low) / (scale.top - scale.bottom)).toBeGreaterThan(0.2)
  })
  test('concentrations begin at zero', () => {
    const open = { low: null, high: 0.02, dangerLow: null, dangerHigh: 0.2 }
    const scale = laneScale({ lane: 'nh3', band: open, lowest: 0.004, highest: 0.006 })
    expect(scale.bottom).toBeLessThanOrEqual(0)
    expect(scale.bottom).toBeGreaterThan(-0.02)
    expect(placeOnLane(0.02, scale)).toBeGreaterThan(0)
  })
  test('is never empty or upside down, whatever is known', () => {
    const maybe = fc.option(fc.double({ min: -50, max: 500, noNaN: true }))
    fc.assert(
      fc.property(
        fc.constantFrom('temperature', 'ph', 'nh3', 'nitrite'),
        maybe,
        maybe,
        maybe,
        maybe,
        (lane, a, b, c, d) => {
          const sorted = (one: number | null, other: number | null): readonly (number | null)[] =>
            one !== null && other !== null && one > other ? [other, one] : [one, other]
          const [low = null, high = null] = sorted(a, b)
          const [lowest = null, highest = null] = sorted(c, d)
          const scale = laneScale({
            lane: lane as 'ph',
            band: { low, high, dangerLow: null, dangerHigh: null },
            lowest,
            highest
          })
          expect(Number.isFinite(scale.bottom) && Number.isFinite(scale.top)).toBe(true)
          expect(scale.top).toBeGreaterThan(scale.bottom)
        }
      )
    )
  })
})
