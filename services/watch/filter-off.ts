import type { TankEvent } from '../tank/event.ts'
import type { Judged } from './judged.ts'

const minuteMs = 60_000
/** Bacteria in a closed filter run short of oxygen within hours; the steps are common practice, no source. */
const steps = [
  // By then it was likelier forgotten to say so than left standing: it is asked once a day, and never taken as said.
  { fromMs: 24 * 60 * minuteMs, because: 'off-for-a-day' },
  { fromMs: 120 * minuteMs, because: 'off-for-two-hours' },
  { fromMs: 60 * minuteMs, because: 'off-for-an-hour' },
  { fromMs: 30 * minuteMs, because: 'off-for-half-an-hour' }
] as const
/** Since when the filter has been off; null while it runs as far as anybody said. Time alone starts no filter. */
export function filterOffSinceMs(events: readonly TankEvent[], nowMs: number): number | null {
  const latest = events.findLast(
    ({ atMs, kind }) => atMs <= nowMs && (kind === 'filter-stopped' || kind === 'filter-started')
  )
  return latest?.kind === 'filter-stopped' ? latest.atMs : null
}

/** From then on its bacteria begin to die. Common practice, no source. */
const dyingAfterMs = 120 * minuteMs

/**
 * The filter was switched off for a moment, and the moment has become long. With fish it has a time that runs out;
 * after a day nothing is left that would be worth waking somebody for.
 */
export function judgeFilterStopped(
  given: Readonly<{ events: readonly TankEvent[]; hasFish: boolean; nowMs: number }>
): Judged {
  const sinceMs = filterOffSinceMs(given.events, given.nowMs)
  if (sinceMs === null) return null
  const step = steps.find(({ fromMs }) => given.nowMs - sinceMs >= fromMs)
  if (step === undefined) return null
  const offMs = given.nowMs - sinceMs
  const mayWake = given.hasFish && step.because !== 'off-for-a-day'
  return {
    because: step.because,
    value: offMs / minuteMs,
    unit: 'min',
    sinceMs,
    ...(mayWake ? { hoursLeft: Math.max(0, dyingAfterMs - offMs) / (60 * minuteMs) } : {})
  }
}
