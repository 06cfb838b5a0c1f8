import { signal } from '@preact/signals'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { calls } from './house.ts'
import { tankId } from './route.ts'

/** All activations of the tank in view, newest first; null before they were asked for. */
export const alarmList = signal<readonly AlarmView[] | null>(null)

export async function loadAlarms(): Promise<void> {
  const id = tankId.value
  if (id === null) return
  const answer = await calls.alarms(id)
  if (answer.kind === 'done') alarmList.value = answer.value.toSorted((a, b) => b.raisedAtMs - a.raisedAtMs)
}

/** One activation that is no longer standing. */
export async function findAlarm(id: string): Promise<AlarmView | null> {
  await loadAlarms()
  return alarmList.value?.find((alarm) => alarm.id === id) ?? null
}
