import type { AlarmState, Priority } from '../tank/alarm-names.ts'
import { reAlarmAfterMs } from './definitions.ts'

const minuteMs = 60_000

/** When an alarm rings again, in one plain sentence or two: by its state, its urgency, and what a person has said. */
export function ringsAgainWords(
  alarm: Readonly<{
    state: AlarmState
    priority: Priority
    acknowledgedAtMs: number | null
    shelvedUntilMs: number | null
    nowMs: number
  }>
): string {
  const { state, priority, nowMs } = alarm
  const restMs = reAlarmAfterMs[priority]
  switch (state) {
    case 'unacknowledged':
      return restMs === null
        ? 'It waits until someone has seen it. Then it rings again only if it grows worse.'
        : `It rings until someone has seen it. Then it rings again every ${spanWords(restMs)} while it lasts, and at once if it grows worse.`
    case 'acknowledged': {
      if (restMs === null || alarm.acknowledgedAtMs === null)
        return 'It has been seen. It rings again only if it grows worse.'
      const leftMs = Math.max(minuteMs, alarm.acknowledgedAtMs + restMs - nowMs)
      return `It rings again in ${spanWords(leftMs)} if it still lasts, and at once if it grows worse.`
    }
    case 'shelved': {
      const leftMs = Math.max(minuteMs, (alarm.shelvedUntilMs ?? nowMs) - nowMs)
      return `It rings again in ${spanWords(leftMs)} if it still lasts, and at once if it grows worse.`
    }
    case 'suppressed':
      return 'It is back as soon as nothing explains it any more, if it still lasts then. It rings anew unless it rang a short while before.'
    case 'returned-unacknowledged':
      return 'It is gone by itself. It rings again if it comes back.'
    case 'latched-unacknowledged':
    case 'latched-acknowledged':
      return 'It is gone by itself and held until someone has looked. It rings again if it comes back.'
    case 'out-of-service':
      return 'It does not ring while its probe is out of service.'
    case 'normal':
      return 'It is over. If it comes back, it rings as a new alarm.'
  }
}

function spanWords(spanMs: number): string {
  const minutes = Math.round(spanMs / minuteMs)
  if (minutes === 1) return 'a minute'
  return minutes < 90 ? `${minutes} minutes` : `${Math.round(minutes / 60)} hours`
}
