import { DateTime } from 'luxon'
import type { UpkeepDue } from '../care/upkeep.ts'

const mostOctets = 75
const dayMs = 86_400_000

/**
 * What is to be done about a tank as iCalendar (RFC 5545): whole days in the tank's own zone. Events unless to-dos
 * are asked for, because many calendars show no to-dos. No alarm rings: these are prompts.
 */
export function upkeepCalendar(
  ask: Readonly<{
    tankId: string
    tankName: string
    timeZone: string
    tasks: readonly UpkeepDue[]
    nowMs: number
    as: 'events' | 'todos'
  }>
): string {
  const { tankId, timeZone, nowMs } = ask
  const dayOf = (atMs: number, plusDays = 0): string =>
    DateTime.fromMillis(atMs, { zone: timeZone }).plus({ days: plusDays }).toFormat('yyyyMMdd')
  const stamp = DateTime.fromMillis(nowMs, { zone: 'utc' }).toFormat("yyyyMMdd'T'HHmmss'Z'")
  const name = ask.as === 'events' ? 'VEVENT' : 'VTODO'
  const entries = ask.tasks.flatMap((task) => [
    `BEGIN:${name}`,
    `UID:${task.task}.${tankId}@shoalkeeper.invalid`,
    `DTSTAMP:${stamp}`,
    // Each time it was done moves it: the number grows with the day it counts from.
    `SEQUENCE:${Math.max(0, Math.floor((task.dueAtMs - task.everyMs) / dayMs))}`,
    `SUMMARY:${escaped(`${ask.tankName}: ${task.title}`)}`,
    `DESCRIPTION:${escaped(`${task.words}\n\n${task.caution}`)}`,
    ...(ask.as === 'events'
      ? [
          `DTSTART;VALUE=DATE:${dayOf(task.dueAtMs)}`,
          `DTEND;VALUE=DATE:${dayOf(task.dueAtMs, 1)}`,
          'TRANSP:TRANSPARENT'
        ]
      : [`DUE;VALUE=DATE:${dayOf(task.dueAtMs)}`, 'STATUS:NEEDS-ACTION']),
    `END:${name}`
  ])
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Shoalkeeper//Upkeep//EN',
    'CALSCALE:GREGORIAN',
    `X-WR-CALNAME:${escaped(`${ask.tankName}: upkeep`)}`,
    'REFRESH-INTERVAL;VALUE=DURATION:PT6H',
    ...entries,
    'END:VCALENDAR'
  ]
  return `${lines.map(folded).join('\r\n')}\r\n`
}

const escaped = (text: string): string =>
  text
    .replaceAll('\\', '\\\\')
    .replaceAll(';', '\\;')
    .replaceAll(',', '\\,')
    .replaceAll(/\r?\n/g, '\\n')
    .replaceAll(/\p{Cc}/gu, ' ')

/** No line is longer than 75 octets, and no sign is cut in two. */
function folded(line: string): string {
  const parts: string[] = []
  let part = ''
  for (const sign of line) {
    const room = mostOctets - (parts.length === 0 ? 0 : 1)
    if (Buffer.byteLength(part) + Buffer.byteLength(sign) > room) {
      parts.push(part)
      part = ''
    }
    part += sign
  }
  return [...parts, part].join('\r\n ')
}
