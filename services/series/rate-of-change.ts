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

/** The half of the look-back over which a median is taken. */
const blockMs = 5 * minuteMs
/** Two blocks further apart than this say nothing about how fast it goes now. */
const longestReachMs = hourMs

/**
 * How fast a value changes now, seen through medians: the newest five minutes against the last five minutes that
 * lie wholly before them. One step of a coarse sensor, or one wild value, is no rate.
 * Null where there is nothing to compare with.
 * Units: value per hour.
 * Valid: minutes in time order, each the median of what came in that minute.
 * Source: common practice, no source.
 * Exact to: double precision.
 */
export function rateOverMediansPerHour(minutes: readonly Point[]): number | null {
  const newest = minutes.at(-1)
  if (newest === undefined) return null
  let before = minutes.length - 1
  while (before >= 0 && (minutes[before] as Point).atMs > newest.atMs - blockMs) before -= 1
  const anchor = minutes[before]
  if (anchor === undefined || newest.atMs - anchor.atMs > longestReachMs) return null
  let first = before
  while (first >= 0 && (minutes[first] as Point).atMs > anchor.atMs - blockMs) first -= 1
  const now = middleOf(minutes.slice(before + 1))
  const then = middleOf(minutes.slice(first + 1, before + 1))
  return now === null || then === null ? null : ((now.value - then.value) / (now.atMs - then.atMs)) * hourMs
}

function middleOf(points: readonly Point[]): Point | null {
  const value = median(points.map((point) => point.value))
  const atMs = median(points.map((point) => point.atMs))
  return value === null || atMs === null ? null : { atMs, value }
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
