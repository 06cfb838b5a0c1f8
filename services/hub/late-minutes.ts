import { minuteMs } from '../series/minutes.ts'
import type { Channel } from './channels.ts'

/** A value that came a little late is still the newest there is. */
export const latestMin = 5
/** A word may come a moment after the minute it belongs to was judged; that is not late yet. */
const notLateMin = 1
/** So long after the last late word the next is waited for. Our own choice. */
const waitsMs = 30 * minuteMs
/** In so many minutes of them it is a habit and no single burst: then half a day tells how late they come. Our own choice. */
const habitMinutes = 5
const habitMs = 12 * 60 * minuteMs

/** How many minutes the words of a probe have lately come late: by so much a judgement that needs their order waits. */
export type LateMinutes = Readonly<{
  /** Asked once a minute. Units: whole minutes, 0 to `latestMin`; 0 where they come in time. */
  behind: (channel: Channel | null, nowMs: number) => number
}>

export function makeLateMinutes(): LateMinutes {
  let of: Channel | null = null
  let askedMs: number | null = null
  let seen = new Set<number>()
  let late: readonly Readonly<{ atMs: number; minutes: number }>[] = []

  return {
    behind(channel, nowMs) {
      if (channel === null) return 0
      const points = channel.minutes.between({
        fromMs: nowMs - (latestMin + 1) * minuteMs,
        toMs: nowMs,
        fresh: true
      })
      // Of another probe, or after a pause of the watch, nobody knows when the last minutes came.
      const isFollowed = channel === of && askedMs !== null && nowMs - askedMs <= minuteMs
      const cameNow = isFollowed ? points.filter(({ atMs }) => !seen.has(atMs)) : []
      of = channel
      askedMs = nowMs
      seen = new Set(points.map(({ atMs }) => atMs))
      late = [
        ...late.filter(({ atMs }) => nowMs - atMs < habitMs),
        ...cameNow
          .map((point) => ({ atMs: nowMs, minutes: Math.floor((nowMs - point.atMs) / minuteMs) }))
          .filter(({ minutes }) => minutes > notLateMin)
      ]
      const recent = late.filter(({ atMs }) => nowMs - atMs < waitsMs)
      const isHabit = new Set(recent.map(({ atMs }) => atMs)).size >= habitMinutes
      return Math.min(latestMin, Math.max(0, ...(isHabit ? late : recent).map(({ minutes }) => minutes)))
    }
  }
}
