import type { AlarmView } from '../contract/alarm-view.ts'
import type { AlarmChange } from '../tank/alarm-record.ts'
import type { TankRecord } from '../tank/record.ts'
import { alarmViewOf } from './alarm-view.ts'
import { standingAlarms } from './now.ts'
import type { WatchedTank } from './watched-tank.ts'

const usualSpanMs = 30 * 86_400_000
const mostChanges = 5000

/** All activations of a tank since a moment, and those that still stand whatever their age; newest first. */
export async function alarmsOf(
  record: TankRecord,
  tank: WatchedTank,
  given: Readonly<{ fromMs: number | undefined; nowMs: number }>
): Promise<readonly AlarmView[]> {
  const { nowMs } = given
  const { tankId, watch } = tank
  const standing = standingAlarms(watch, nowMs)
  const known = new Set(standing.map((alarm) => alarm.id))
  const changes = await record.alarmChanges({
    tankId,
    fromMs: given.fromMs ?? nowMs - usualSpanMs,
    limit: mostChanges
  })
  const slots = watch.board().slots()
  const past = [...byActivation(changes)].flatMap(([id, list]) => {
    if (known.has(id)) return []
    const slot = slots.find((one) => one.activationId === id) ?? null
    return alarmViewOf({ changes: list, slot, facts: watch.facts(), nowMs }) ?? []
  })
  return [...standing, ...past].sort((a, b) => b.raisedAtMs - a.raisedAtMs)
}

function byActivation(changes: readonly AlarmChange[]): ReadonlyMap<string, readonly AlarmChange[]> {
  const lists = new Map<string, AlarmChange[]>()
  for (const change of changes) {
    const list = lists.get(change.activationId) ?? []
    list.push(change)
    lists.set(change.activationId, list)
  }
  return lists
}
