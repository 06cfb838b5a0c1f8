import { DateTime, IANAZone } from 'luxon'
import type { ZoneOffsets, ZoneSpan } from '../contract/first-answers.ts'

const dayMs = 86_400_000
const minuteMs = 60_000
const reachDays = 400

/**
 * The offsets of a time zone for some four hundred days before and after: with them a page tells the local time by
 * adding, where its browser would first have to read its own tables. Null for a zone that is not known here.
 */
export function zoneOffsets(zone: string, nowMs: number): ZoneOffsets | null {
  const table = IANAZone.create(zone)
  if (!table.isValid) return null
  const offsetAt = (atMs: number): number => DateTime.fromMillis(atMs, { zone: table }).offset
  const startMs = Math.floor(nowMs / dayMs - reachDays) * dayMs
  const toMs = startMs + 2 * reachDays * dayMs
  const spans: ZoneSpan[] = [{ fromMs: startMs, minutes: offsetAt(startMs) }]
  for (let dayAtMs = startMs; dayAtMs < toMs; dayAtMs += dayMs) {
    const before = spans.at(-1)?.minutes
    const after = offsetAt(dayAtMs + dayMs)
    if (after === before) continue
    let [low, high] = [dayAtMs, dayAtMs + dayMs]
    while (high - low > minuteMs) {
      const middle = low + Math.floor((high - low) / 2 / minuteMs) * minuteMs
      if (offsetAt(middle) === before) low = middle
      else high = middle
    }
    spans.push({ fromMs: high, minutes: after })
  }
  return { zone, toMs, spans }
}
