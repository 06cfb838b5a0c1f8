import { moments as words } from './english/moments.ts'
import { dateFormat } from './formats.ts'
import type { Reader } from './reader.ts'
import { localDate } from './zone-clock.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs

/** Time of day, such as 02:14 or 2:14 AM. */
export function timeOfDay(atMs: number, reader: Reader): string {
  const local = reader.locale === 'en' ? localDate(atMs, reader.timeZone) : null
  if (local !== null) return clockWords(local, reader.clock)
  return dateFormat(reader.locale, {
    hour: reader.clock === '24' ? '2-digit' : 'numeric',
    minute: '2-digit',
    hourCycle: reader.clock === '24' ? 'h23' : 'h12',
    timeZone: reader.timeZone
  }).format(atMs)
}

const two = (value: number): string => String(value).padStart(2, '0')

/** A date whose UTC fields show the local clock, as English writes its time of day. */
function clockWords(local: Date, clock: Reader['clock']): string {
  const [hours, minutes] = [local.getUTCHours(), two(local.getUTCMinutes())]
  return clock === '24'
    ? `${two(hours)}:${minutes}`
    : `${hours % 12 === 0 ? 12 : hours % 12}:${minutes} ${hours < 12 ? 'AM' : 'PM'}`
}

/** The local calendar day as YYYY-MM-DD, to compare days. */
export function dayOf(atMs: number, reader: Reader): string {
  const local = localDate(atMs, reader.timeZone)
  if (local !== null) return local.toISOString().slice(0, 10)
  const parts = dateFormat('en-CA', {
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    timeZone: reader.timeZone
  }).format(atMs)
  return parts
}

/** Full hours and minutes of the local day as a fraction of hours, to choose day or night. */
export function hourOf(atMs: number, reader: Reader): number {
  const local = localDate(atMs, reader.timeZone)
  if (local !== null) return local.getUTCHours() + local.getUTCMinutes() / 60
  const text = dateFormat('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    timeZone: reader.timeZone
  }).format(atMs)
  const [hours = 0, minutes = 0] = text.split(':').map(Number)
  return hours + minutes / 60
}

/** The moments between two others at which the local clock strikes 0, 6, 12 or 18, oldest first. */
export function quarterDays(fromMs: number, toMs: number, reader: Reader): readonly number[] {
  const marks: number[] = []
  const quarterHourMs = 15 * minuteMs
  let atMs = Math.ceil(fromMs / quarterHourMs) * quarterHourMs
  while (atMs <= toMs) {
    const isMark = hourOf(atMs, reader) % 6 === 0
    if (isMark) marks.push(atMs)
    // No clock change is longer than three hours, so the next mark cannot be nearer than that.
    atMs += isMark ? 3 * hourMs : quarterHourMs
  }
  return marks
}

/** "today 18:40", "yesterday 18:40", "Tue 18:40" within the week, "3 Nov 18:40" before. */
export function momentWords(atMs: number, nowMs: number, reader: Reader): string {
  const time = timeOfDay(atMs, reader)
  const day = dayOf(atMs, reader)
  if (day === dayOf(nowMs, reader)) return words.today(time)
  if (day === dayOf(nowMs - dayMs, reader)) return words.yesterday(time)
  if (day === dayOf(nowMs + dayMs, reader)) return words.tomorrow(time)
  const within = Math.abs(nowMs - atMs) < 6 * dayMs
  const local = reader.locale === 'en' ? localDate(atMs, reader.timeZone) : null
  if (local !== null && within) return `${words.weekdays[local.getUTCDay()]} ${time}`
  if (local !== null) return `${local.getUTCDate()} ${words.months[local.getUTCMonth()]} ${time}`
  const date = dateFormat(reader.locale === 'en' ? 'en-GB' : reader.locale, {
    ...(within ? { weekday: 'short' as const } : { day: 'numeric' as const, month: 'short' as const }),
    timeZone: reader.timeZone
  }).format(atMs)
  return `${date} ${time}`
}

/** "25 Nov 21:00": a moment with its day, whatever day it is now. */
export const dayAndTime = (atMs: number, reader: Reader): string =>
  `${dateFormat(reader.locale === 'en' ? 'en-GB' : reader.locale, {
    day: 'numeric',
    month: 'short',
    timeZone: reader.timeZone
  }).format(atMs)} ${timeOfDay(atMs, reader)}`

/** "02:14" today, with its day where it was another one: for "silent since". */
export function sinceWords(atMs: number, nowMs: number, reader: Reader): string {
  return dayOf(atMs, reader) === dayOf(nowMs, reader) || nowMs - atMs < 12 * hourMs
    ? timeOfDay(atMs, reader)
    : momentWords(atMs, nowMs, reader)
}

/** "just now", "20 s ago", "4 min ago", "3 h ago", "2 days ago". Steps of five seconds keep the wall calm. */
export function agoWords(ageMs: number): string {
  const age = Math.max(0, ageMs)
  if (age < 5_000) return words.justNow
  if (age < minuteMs) return words.ago(words.seconds(Math.floor(age / 5_000) * 5))
  return words.ago(spanWords(age))
}

/** A span in its largest fitting unit: "4 min", "3 h", "2 days". */
export function spanWords(spanMs: number): string {
  const span = Math.max(0, spanMs)
  if (span < minuteMs) return words.seconds(Math.max(1, Math.round(span / 1000)))
  if (span < 90 * minuteMs) return words.minutes(Math.round(span / minuteMs))
  if (span < 48 * hourMs) return words.hours(Math.round(span / hourMs))
  return words.days(Math.round(span / dayMs))
}

/** A value for `<input type="datetime-local">` in the device's zone, and back. */
export function localInputOf(atMs: number): string {
  const date = new Date(atMs)
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}`
}
export const momentOfLocalInput = (text: string): number | null => {
  const atMs = new Date(text).getTime()
  return Number.isNaN(atMs) ? null : atMs
}

/** A day with its year: "14 December 2026". */
export const dateWords = (atMs: number, reader: Reader): string =>
  new Intl.DateTimeFormat(reader.locale === 'en' ? 'en-GB' : reader.locale, {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: reader.timeZone
  }).format(atMs)
