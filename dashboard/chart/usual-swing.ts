import type { TrackPoint } from './lane-columns.ts'
import type { LaneFacts } from './lane-facts.ts'

const hourMs = 3_600_000
/** A shorter past tells nothing of what is usual; the newest half hour is the move itself. */
const leastPastMs = 6 * hourMs
const moveMs = hourMs / 2

/**
 * A value that went as far before within the day, and came back, is on no way to an edge: so a thermostat swings, and
 * pH between day and night. Its direction stays, the time to the edge goes, until it leaves what the day has seen.
 */
export function withinUsualSwing(facts: LaneFacts, points: readonly TrackPoint[], nowMs: number): LaneFacts {
  const { value, hoursToEdge, trendPerHour } = facts
  if (value === null || hoursToEdge === null || trendPerHour === null) return facts
  const before = points.filter(
    ({ atMs, mean, flag }) =>
      mean !== null && flag !== 4 && atMs < nowMs - moveMs && atMs > nowMs - 24 * hourMs
  )
  const [first] = before
  if (first === undefined || nowMs - first.atMs < leastPastMs) return facts
  const reached = before.some(({ mean, min, max }) =>
    trendPerHour < 0 ? (min ?? mean ?? value) <= value : (max ?? mean ?? value) >= value
  )
  return reached ? { ...facts, hoursToEdge: null, edge: null } : facts
}
