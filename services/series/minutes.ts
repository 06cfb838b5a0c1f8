import { median } from './median.ts'
import type { Point } from './points.ts'

export const minuteMs = 60_000
/** A little over 34 hours: a power of two keeps the arithmetic short. */
const capacity = 2048
/** A value that arrived this much after its own time tells of the past, not of now. */
const lateMs = 10 * minuteMs

type Minute = {
  /** The end of the minute in whole minutes since 1970: holds what lies in (end - 1 min, end]. */
  readonly index: number
  readonly timesMs: number[]
  /** Those of them that were taken out again. */
  readonly outMs: number[]
  whole: Point | null
  /** The same without what came late; null where all of it did. */
  fresh: Point | null
  freshCount: number
}

/** One probe channel's last day and a bit, gathered into whole minutes, whatever the order of arrival. */
export type MinuteSeries = Readonly<{
  /** Takes a value once: the same moment again is not taken twice. Answers whether it was taken. */
  add: (given: Readonly<{ atMs: number; value: number; arrivedAtMs: number }>) => boolean
  /** Takes a value out again that turned out to be none. Answers whether it was in. */
  remove: (given: Readonly<{ atMs: number; value: number; arrivedAtMs: number }>) => boolean
  /** Means of the minutes in (fromMs, toMs], oldest first. `fresh` leaves out what arrived long after its time. */
  between: (ask: Readonly<{ fromMs: number; toMs: number; fresh?: boolean }>) => readonly Point[]
  /** Median of the newest `count` minutes that hold anything, looking back no further than `withinMs`. */
  recentMedian: (ask: Readonly<{ toMs: number; count: number; withinMs: number }>) => number | null
  /** End of the newest minute at or before `toMs` that holds something fresh, within the time kept. */
  newestFreshMs: (toMs: number) => number | null
}>

/** A mean of what is left; null where nothing is. */
function without(mean: Point | null, value: number, left: number): Point | null {
  if (mean === null || left <= 0) return null
  return { atMs: mean.atMs, value: mean.value + (mean.value - value) / left }
}

export function makeMinuteSeries(): MinuteSeries {
  const ring: (Minute | undefined)[] = new Array(capacity)
  let newestIndex = Number.NEGATIVE_INFINITY
  let newestFreshIndex = Number.NEGATIVE_INFINITY

  const held = (index: number): Minute | undefined => {
    const minute = ring[index & (capacity - 1)]
    return minute?.index === index ? minute : undefined
  }

  function add(given: Readonly<{ atMs: number; value: number; arrivedAtMs: number }>): boolean {
    const index = Math.ceil(given.atMs / minuteMs)
    if (index <= newestIndex - capacity) return false
    if (index > newestIndex) newestIndex = index
    let minute = held(index)
    const endMs = index * minuteMs
    if (minute === undefined) {
      const whole = { atMs: endMs, value: given.value }
      minute = { index, timesMs: [given.atMs], outMs: [], whole, fresh: null, freshCount: 0 }
      ring[index & (capacity - 1)] = minute
    } else {
      if (minute.timesMs.includes(given.atMs)) return false
      minute.timesMs.push(given.atMs)
      const value = minute.whole?.value ?? given.value
      const count = minute.timesMs.length - minute.outMs.length
      minute.whole = { atMs: endMs, value: value + (given.value - value) / count }
    }
    if (given.arrivedAtMs - given.atMs > lateMs) return true
    minute.freshCount += 1
    const before = minute.fresh?.value ?? given.value
    minute.fresh = { atMs: endMs, value: before + (given.value - before) / minute.freshCount }
    if (index > newestFreshIndex) newestFreshIndex = index
    return true
  }

  function remove(given: Readonly<{ atMs: number; value: number; arrivedAtMs: number }>): boolean {
    const index = Math.ceil(given.atMs / minuteMs)
    const minute = held(index)
    if (minute === undefined || !minute.timesMs.includes(given.atMs) || minute.outMs.includes(given.atMs))
      return false
    minute.outMs.push(given.atMs)
    minute.whole = without(minute.whole, given.value, minute.timesMs.length - minute.outMs.length)
    if (given.arrivedAtMs - given.atMs > lateMs) return true
    minute.freshCount -= 1
    minute.fresh = without(minute.fresh, given.value, minute.freshCount)
    if (index === newestFreshIndex && minute.fresh === null) newestFreshIndex = freshBefore(index)
    return true
  }

  function freshBefore(index: number): number {
    for (let back = index - 1; back > newestIndex - capacity; back -= 1)
      if (held(back)?.fresh != null) return back
    return Number.NEGATIVE_INFINITY
  }

  function between(ask: Readonly<{ fromMs: number; toMs: number; fresh?: boolean }>): readonly Point[] {
    const points: Point[] = []
    const last = Math.min(Math.floor(ask.toMs / minuteMs), newestIndex)
    const first = Math.max(Math.floor(ask.fromMs / minuteMs) + 1, newestIndex - capacity + 1)
    for (let index = first; index <= last; index += 1) {
      const minute = held(index)
      const point = ask.fresh === true ? minute?.fresh : minute?.whole
      if (point !== undefined && point !== null) points.push(point)
    }
    return points
  }

  function recentMedian(ask: Readonly<{ toMs: number; count: number; withinMs: number }>): number | null {
    const values: number[] = []
    const last = Math.min(Math.floor(ask.toMs / minuteMs), newestIndex)
    const first = Math.floor((ask.toMs - ask.withinMs) / minuteMs) + 1
    for (let index = last; index >= first && values.length < ask.count; index -= 1) {
      const value = held(index)?.fresh?.value
      if (value !== undefined) values.push(value)
    }
    return median(values)
  }

  function newestFreshMs(toMs: number): number | null {
    const last = Math.floor(toMs / minuteMs)
    if (newestFreshIndex <= last) return newestFreshIndex > 0 ? newestFreshIndex * minuteMs : null
    for (let index = last; index > newestIndex - capacity; index -= 1)
      if (held(index)?.fresh != null) return index * minuteMs
    return null
  }

  return { add, remove, between, recentMedian, newestFreshMs }
}
