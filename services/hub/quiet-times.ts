import type { AlarmDefinition } from '../alarm/definition.ts'
import { hushedBy } from '../alarm/life.ts'
import type { TankEvent } from '../tank/event.ts'
import type { AlarmBoard } from './alarm-board.ts'

const minuteMs = 60_000
/** Water that was changed needs so long to be warm again; so long plain limits keep quiet about it. */
const afterChangeMs = 180 * minuteMs

/** So long is a moment: from then on the filter itself is asked for. */
const momentMs = 30 * minuteMs

/** Until when hands are in the tank; null where nobody said so, or all is done. */
export function maintenanceUntilMs(events: readonly TankEvent[], nowMs: number): number | null {
  const latest = events.findLast(
    (event) =>
      event.atMs <= nowMs && (event.kind === 'maintenance-started' || event.kind === 'maintenance-ended')
  )
  if (latest === undefined || latest.kind === 'maintenance-ended') return null
  const untilMs = latest.atMs + (latest.data?.minutes ?? 60) * minuteMs
  return untilMs > nowMs ? untilMs : null
}

/** So long after hands came out the usual omissions are asked for. */
const asksAfterWorkMs = 60 * minuteMs

/** When the last work in the tank ended, told or by its time, while that is less than an hour ago; else null. */
export function workJustDone(events: readonly TankEvent[], nowMs: number): number | null {
  if (maintenanceUntilMs(events, nowMs) !== null) return null
  const latest = events.findLast(
    ({ atMs, kind }) => atMs <= nowMs && (kind === 'maintenance-started' || kind === 'maintenance-ended')
  )
  if (latest === undefined) return null
  const doneMs =
    latest.kind === 'maintenance-ended' ? latest.atMs : latest.atMs + (latest.data?.minutes ?? 60) * minuteMs
  return nowMs - doneMs < asksAfterWorkMs ? doneMs : null
}

/** Why an alarm must keep quiet at a moment; null where nothing explains it. */
export function hushOf(
  definition: AlarmDefinition,
  given: Readonly<{
    nowMs: number
    maintenanceUntilMs: number | null
    lastChangeMs: number | null
    filterOffSinceMs: number | null
    holds: AlarmBoard['holds']
    speaksForHouse: boolean
  }>
): string | null {
  // What is one trouble of the house rings in one tank; the same alarm there explains it here.
  if (definition.oncePerHouse === true && !given.speaksForHouse) return hushedBy(definition.kind)
  const cause = definition.hushedBy.find((kind) => given.holds(kind, definition.hushedAbout))
  if (cause !== undefined) return hushedBy(cause)
  if (definition.quietDuringMaintenance && given.maintenanceUntilMs !== null) return 'hands-in-the-tank'
  const { lastChangeMs, nowMs } = given
  if (definition.quietAfterWaterChange && lastChangeMs !== null && nowMs - lastChangeMs < afterChangeMs)
    return 'after-water-change'
  const { filterOffSinceMs } = given
  if (definition.quietWhileFilterOff && filterOffSinceMs !== null && nowMs - filterOffSinceMs < momentMs)
    return 'filter-off-for-a-moment'
  return null
}

/** When water was last changed before a moment. */
export const lastChangeMs = (events: readonly TankEvent[], nowMs: number): number | null =>
  events.findLast((event) => event.kind === 'water-changed' && event.atMs <= nowMs)?.atMs ?? null
