import { computed, signal } from '@preact/signals'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { say } from '../words/say.ts'
import { calls } from './house.ts'
import { alarmsElsewhere, mustBeHeard } from './other-tanks.ts'
import { hush } from './sound.ts'
import { showToast } from './toast.ts'
import { byUrgency } from './urgency.ts'
import { now } from './watch.ts'

export const isUnacknowledged = (alarm: AlarmView): boolean =>
  alarm.state === 'unacknowledged' ||
  alarm.state === 'returned-unacknowledged' ||
  alarm.state === 'latched-unacknowledged'
export const isStanding = (alarm: AlarmView): boolean =>
  isUnacknowledged(alarm) || alarm.state === 'acknowledged' || alarm.state === 'latched-acknowledged'

const spoken = (): unknown => now.value?.verdict.facts?.alarmId
/** Alarms that want eyes: those nobody has acknowledged first, then by urgency, then the oldest. */
export const standingAlarms = computed<readonly AlarmView[]>(() =>
  (now.value?.alarms ?? []).filter(isStanding).toSorted(
    (a, b) =>
      Number(isUnacknowledged(b)) - Number(isUnacknowledged(a)) ||
      byUrgency(a, b) ||
      // Of equals, the one that the sentence on top speaks of.
      Number(b.id === spoken()) - Number(a.id === spoken()) ||
      a.raisedAtMs - b.raisedAtMs
  )
)
export const setAsideAlarms = computed<readonly AlarmView[]>(() =>
  (now.value?.alarms ?? []).filter((alarm) => alarm.state === 'shelved' || alarm.state === 'suppressed')
)
/** What must be heard, of whichever tank. One that has gone by itself is shown and stays silent. */
export const soundingAlarms = computed<readonly AlarmView[]>(() => [
  ...standingAlarms.value.filter(mustBeHeard),
  ...alarmsElsewhere.value
])

/** Activations that were being acknowledged while the house was away, by id. */
export const acting = signal<readonly string[]>([])

/** Acknowledges, shelves, brings back or resets one activation. */
export async function actOnAlarm(
  alarm: AlarmView,
  action: 'acknowledge' | 'shelve' | 'unshelve' | 'reset',
  body: Readonly<Record<string, unknown>> = {}
): Promise<void> {
  if (action === 'acknowledge') hush(alarm.id)
  acting.value = [...acting.value, alarm.id]
  const answer = await calls.actOnAlarm(alarm.id, action, body)
  acting.value = acting.value.filter((id) => id !== alarm.id)
  if (answer.kind === 'away') return showToast({ words: say.alarm.notReached, isBad: true })
  if (answer.kind === 'refused') showToast({ words: answer.problem.detail, isBad: true })
  const state = now.value
  if (state === null) return
  const fresh = await calls.now(state.tankId)
  if (fresh.kind === 'done' && now.value?.tankId === fresh.value.tankId) now.value = fresh.value
}
