import { signal } from '@preact/signals'
import type { AlarmView, NoiseView } from '../../services/contract/alarm-view.ts'
import { calls } from './house.ts'
import { tank, tankId } from './route.ts'

/** All activations of the tank in view, newest first; null before they were asked for. */
export const alarmList = signal<readonly AlarmView[] | null>(null)

export async function loadAlarms(): Promise<void> {
  const id = tankId.value
  if (id === null) return
  const answer = await calls.alarms(id)
  if (answer.kind === 'done') alarmList.value = answer.value.toSorted((a, b) => b.raisedAtMs - a.raisedAtMs)
}

const dayMs = 86_400_000
/** A rate for a week needs a week; further back than this is another time. */
const [fewestDays, mostDays] = [7, 30]

/** How noisy the tank in view has been, and for how many days the watch has known it; null before it was asked for. */
export const noise = signal<Readonly<{ tankId: string; view: NoiseView; knownDays: number }> | null>(null)

export async function loadNoise(nowMs: number): Promise<void> {
  const known = tank.value
  // What is known of this tank stays in sight until it is known anew.
  if (noise.value !== null && noise.value.tankId !== known?.id) noise.value = null
  if (known === null) return
  const knownDays = Math.ceil((nowMs - known.createdAtMs) / dayMs)
  const answer = await calls.noise(known.id, Math.min(mostDays, Math.max(fewestDays, knownDays)))
  if (answer.kind === 'done' && known.id === tankId.value)
    noise.value = { tankId: known.id, view: answer.value, knownDays }
}

/** One activation that is no longer standing. */
export async function findAlarm(id: string): Promise<AlarmView | null> {
  await loadAlarms()
  return alarmList.value?.find((alarm) => alarm.id === id) ?? null
}
