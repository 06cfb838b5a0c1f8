import type { AlarmView } from '../contract/alarm-view.ts'
import { type AlarmState, priorities } from '../tank/alarm-names.ts'

/** In the order of their urgency; an alarm in another state asks nobody for anything. */
const active: readonly AlarmState[] = [
  'unacknowledged',
  'latched-unacknowledged',
  'acknowledged',
  'latched-acknowledged',
  'returned-unacknowledged'
]

/** What a lamp or a buzzer on a board needs to know of a tank: its highest active alarm, or none. */
export function lampPayload(alarms: readonly AlarmView[]): string {
  const highest = alarms
    .filter(({ state }) => active.includes(state))
    .sort(
      (a, b) =>
        priorities.indexOf(a.priority) - priorities.indexOf(b.priority) ||
        active.indexOf(a.state) - active.indexOf(b.state) ||
        a.raisedAtMs - b.raisedAtMs
    )[0]
  if (highest === undefined) return JSON.stringify({ alarm: null })
  const { id, kind, priority, state, subject, raisedAtMs } = highest
  return JSON.stringify({ alarm: kind, priority, state, subject, id, sinceMs: raisedAtMs })
}

export type LampPorts = Readonly<{
  tankIds: () => Promise<readonly string[]>
  /** Standing alarms of a tank; null where there is no such tank any more. */
  alarms: (tankId: string) => readonly AlarmView[] | null
  publish: (tankId: string, payload: string) => Promise<void>
}>

/** Keeps the retained word of every tank true; says it only when it changes, and all anew after a start. */
export function makeLamp(ports: LampPorts) {
  const said = new Map<string, string>()
  async function say(tankId: string): Promise<void> {
    const payload = lampPayload(ports.alarms(tankId) ?? [])
    if (said.get(tankId) === payload) return
    said.set(tankId, payload)
    try {
      await ports.publish(tankId, payload)
    } catch (cause) {
      said.delete(tankId)
      throw cause
    }
  }
  return {
    say,
    async sayAll(): Promise<void> {
      const present = await ports.tankIds()
      for (const tankId of new Set([...present, ...said.keys()])) await say(tankId)
    }
  }
}
