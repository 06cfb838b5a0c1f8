import type { TrackPoint } from '../../dashboard/chart/lane-columns.ts'
import type { Span } from '../../dashboard/chart/night-span.ts'

export const minuteMs = 60_000
export const hourMs = 60 * minuteMs
/** 21:00 to 08:00 in Vienna in winter. */
export const span: Span = { fromMs: Date.UTC(2026, 10, 25, 20), toMs: Date.UTC(2026, 10, 26, 7) }
export const at = (hours: number): number => span.fromMs + hours * hourMs

/** Five-minute steps through the night, by a function of the hours since 21:00; null where nothing was heard. */
export function steps(
  valueAt: (hours: number) => number | null,
  spread = 0,
  within: Span = span
): readonly TrackPoint[] {
  const points: TrackPoint[] = []
  for (let atMs = within.fromMs; atMs <= within.toMs; atMs += 5 * minuteMs) {
    const mean = valueAt((atMs - within.fromMs) / hourMs)
    if (mean !== null) points.push({ atMs, mean, min: mean - spread, max: mean + spread, flag: 1 })
  }
  return points
}
