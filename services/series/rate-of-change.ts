import { median } from './median.ts'
import type { Point } from './points.ts'
import type { QualityFlag } from './roll-up.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

/** A series with its holes: null where a value is missing. */
export type HoledSeries = Readonly<{ timesMs: readonly number[]; values: readonly (number | null)[] }>

/**
 * QARTOD test 7, rate of change, in its published plain form: each value against the one just before it. The first
 * one and one after a missing one pass.
 * Units: value per second.
 * Valid: times strictly ascending.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 7; fixed limits and the
 *   pass after a missing value as in the public library ioos_qc 3.0.0, rate_of_change_test.
 * Exact to: double precision; a rate exactly at a limit passes.
 */
export function flagRatesOfChange(
  series: HoledSeries,
  limits: Readonly<{ suspectPerSecond: number; failPerSecond?: number | undefined }>
): readonly QualityFlag[] {
  return series.values.map((value, at) => {
    if (value === null || Number.isNaN(value)) return 9
    const before = series.values[at - 1]
    if (before === undefined || before === null || Number.isNaN(before)) return 1
    const seconds = ((series.timesMs[at] as number) - (series.timesMs[at - 1] as number)) / 1000
    const perSecond = Math.abs((value - before) / seconds)
    if (limits.failPerSecond !== undefined && perSecond > limits.failPerSecond) return 4
    return perSecond > limits.suspectPerSecond ? 3 : 1
  })
}

/**
 * The half of the look-back over which a median is taken. Common practice, no source: over less, the noise of an
 * ordinary pH board (0.02 a reading) passes for a change of 0.3 an hour several times a day.
 */
const blockMs = 20 * minuteMs
/** Two blocks further apart than this say nothing about how fast it goes now. */
const longestReachMs = hourMs

/**
 * How fast a value changes now, seen through medians: the newest twenty minutes against the last twenty that lie
 * wholly before them. One step of a coarse sensor, or one wild value, is no rate.
 * Null where there is nothing to compare with.
 * Units: value per hour.
 * Valid: minutes in time order, each the median of what came in that minute.
 * Source: common practice, no source.
 * Exact to: double precision.
 */
export function rateOverMediansPerHour(minutes: readonly Point[]): number | null {
  const newest = minutes.at(-1)
  if (newest === undefined) return null
  const before = lastUntil(minutes, minutes.length - 1, newest.atMs - blockMs)
  const anchor = minutes[before]
  if (anchor === undefined || newest.atMs - anchor.atMs > longestReachMs) return null
  const first = lastUntil(minutes, before, anchor.atMs - blockMs)
  const hours =
    (middleMs(minutes, before + 1, minutes.length) - middleMs(minutes, first + 1, before + 1)) / hourMs
  const now = middleValue(minutes, before + 1, minutes.length)
  const then = middleValue(minutes, first + 1, before + 1)
  return now === null || then === null ? null : (now - then) / hours
}

/** The place of the last minute that is not younger than a moment, from a place backwards; -1 where there is none. */
function lastUntil(minutes: readonly Point[], from: number, atMs: number): number {
  let at = from
  while (at >= 0 && (minutes[at] as Point).atMs > atMs) at -= 1
  return at
}

/** Of minutes in time order the middle ones are known by their place. */
function middleMs(minutes: readonly Point[], from: number, to: number): number {
  const half = from + ((to - from) >> 1)
  const upper = (minutes[half] as Point).atMs
  return (to - from) % 2 === 1 ? upper : ((minutes[half - 1] as Point).atMs + upper) / 2
}

function middleValue(minutes: readonly Point[], from: number, to: number): number | null {
  const values: number[] = []
  for (let at = from; at < to; at += 1) values.push((minutes[at] as Point).value)
  return median(values)
}

/**
 * QARTOD test 7 on a rate that was taken over medians; 2 where there is none yet.
 * Units: value per hour.
 * Valid: any rate.
 * Source: as `flagRatesOfChange`.
 * Exact to: exact; a rate exactly at a limit passes.
 */
export function flagRate(
  perHour: number | null,
  limits: Readonly<{ suspectPerHour: number; failPerHour?: number | undefined }>
): QualityFlag {
  if (perHour === null) return 2
  if (limits.failPerHour !== undefined && Math.abs(perHour) > limits.failPerHour) return 4
  return Math.abs(perHour) > limits.suspectPerHour ? 3 : 1
}
