import type { Priority } from '../tank/alarm-names.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { QuietHours } from './contact.ts'
import { minuteOf, minuteStart, wallTime } from './wall-clock.ts'

const minuteMs = 60_000
/** Clocks are set by an hour at most, and once a night. */
const mostShiftMinutes = 180

/** Whether the wall clock stands within the quiet hours. The end itself is no longer quiet. */
export function isQuiet(atMs: number, timeZone: string, quiet: QuietHours): boolean {
  const { minuteOfDay } = wallTime(atMs, timeZone)
  const [from, to] = [minuteOf(quiet.from), minuteOf(quiet.to)]
  if (from === to) return false
  return from < to ? minuteOfDay >= from && minuteOfDay < to : minuteOfDay >= from || minuteOfDay < to
}

/**
 * When the quiet hours end that a moment lies in; null outside of them. The wall clock decides, so that a night
 * with a change to or from summer time is as long as it is.
 */
export function quietUntilMs(atMs: number, timeZone: string, quiet: QuietHours | null): number | null {
  if (quiet === null || !isQuiet(atMs, timeZone, quiet)) return null
  const { minuteOfDay } = wallTime(atMs, timeZone)
  const leftMinutes = (minuteOf(quiet.to) - minuteOfDay + 1440) % 1440
  let endMs = minuteStart(atMs) + leftMinutes * minuteMs
  for (let shift = 0; shift < mostShiftMinutes && !isQuiet(endMs - minuteMs, timeZone, quiet); shift++)
    endMs -= minuteMs
  for (let shift = 0; shift < mostShiftMinutes && isQuiet(endMs, timeZone, quiet); shift++) endMs += minuteMs
  return endMs
}

/** Whether an alarm may wake a person: it is critical, or its time runs out before the quiet hours do. */
export function mayWake(
  alarm: Readonly<{ priority: Priority; finding: Finding | null }>,
  given: Readonly<{ nowMs: number; quietEndMs: number }>
): boolean {
  if (alarm.priority === 'critical') return true
  const hours = alarm.finding?.hoursLeft
  return hours !== undefined && given.nowMs + hours * 3_600_000 <= given.quietEndMs
}
