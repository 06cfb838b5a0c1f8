import type { ZoneOffsets } from '../../services/contract/first-answers.ts'

const known = new Map<string, ZoneOffsets>()

/** Learns a zone that came with the page: reading the browser's own tables costs a slow tablet a tenth of a second. */
export const learnZone = (offsets: ZoneOffsets): unknown => known.set(offsets.zone, offsets)

/**
 * A moment as a date whose UTC fields show the local clock of a zone; of this device without one. Null where the zone
 * was not learned or the moment lies outside of what was.
 */
export function localDate(atMs: number, zone: string | undefined): Date | null {
  if (zone === undefined) return new Date(atMs - new Date(atMs).getTimezoneOffset() * 60_000)
  const offsets = known.get(zone)
  if (offsets === undefined || atMs >= offsets.toMs) return null
  const span = offsets.spans.findLast(({ fromMs }) => fromMs <= atMs)
  return span === undefined ? null : new Date(atMs + span.minutes * 60_000)
}
