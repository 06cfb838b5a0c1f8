import type Database from 'better-sqlite3'
import { probeAlarmKinds } from '../tank/alarm-names.ts'
import type { AlarmChange, AlarmSlot } from '../tank/alarm-record.ts'
import type { OwedMessage } from '../tank/message.ts'
import { statement } from './statements.ts'

type ChangeRow = Omit<AlarmChange, 'by'> & Readonly<{ by: string | null }>
type ChangesAsk = Readonly<{
  tankId?: string
  fromMs?: number
  toMs?: number
  activationId?: string
  limit?: number
}>

/** Standing alarms, and every transition of their lives, with the messages that each owes. */
export function makeAlarms(db: Database.Database, addMessages: (messages: readonly OwedMessage[]) => number) {
  const saveSlot = statement(
    db,
    `INSERT INTO alarm_slot (tank_id, kind, subject, body) VALUES (?, ?, ?, ?)
     ON CONFLICT (tank_id, kind, subject) DO UPDATE SET body = excluded.body`
  )
  const saveChange = statement(
    db,
    `INSERT INTO alarm_change
     (at_ms, activation_id, tank_id, kind, subject, from_state, to_state, priority, because, done_by)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
  )
  const allSlots = statement<Readonly<{ body: string }>>(db, 'SELECT body FROM alarm_slot')
  const slotsOf = statement<Readonly<{ body: string }>>(db, 'SELECT body FROM alarm_slot WHERE tank_id = ?')
  const changesWhere = (condition: string) =>
    statement<ChangeRow>(
      db,
      `SELECT atMs, activationId, tankId, kind, subject, "from", "to", priority, because, "by" FROM (
         SELECT key, at_ms AS atMs, activation_id AS activationId, tank_id AS tankId, kind, subject,
           from_state AS "from", to_state AS "to", priority, because, done_by AS "by"
         FROM alarm_change WHERE ${condition} at_ms >= ? AND at_ms <= ? ORDER BY at_ms DESC, key DESC LIMIT ?
       ) ORDER BY atMs, key`
    )
  const byActivation = changesWhere('activation_id = ? AND')
  const byTank = changesWhere('tank_id = ? AND')
  const byTime = changesWhere('')

  const probeKinds = probeAlarmKinds.map((kind) => `'${kind}'`).join(', ')
  const renameSlot = statement(
    db,
    `UPDATE OR REPLACE alarm_slot SET subject = ?, body = json_set(body, '$.subject', ?)
     WHERE tank_id = ? AND subject = ? AND kind IN (${probeKinds})`
  )
  const renameChanges = statement(
    db,
    `UPDATE alarm_change SET subject = ? WHERE tank_id = ? AND subject = ? AND kind IN (${probeKinds})`
  )

  return {
    /** Alarms of a probe follow it to its new name. */
    renameSubject({ tankId, from, to }: Readonly<{ tankId: string; from: string; to: string }>): void {
      if (from === to) return
      renameSlot.run(to, to, tankId, from)
      renameChanges.run(to, tankId, from)
    },
    saveAlarms({
      slots,
      changes,
      messages
    }: Readonly<{
      slots: readonly AlarmSlot[]
      changes: readonly AlarmChange[]
      messages?: readonly OwedMessage[]
    }>): void {
      for (const slot of slots) saveSlot.run(slot.tankId, slot.kind, slot.subject, JSON.stringify(slot))
      for (const change of changes)
        saveChange.run(
          change.atMs,
          change.activationId,
          change.tankId,
          change.kind,
          change.subject,
          change.from,
          change.to,
          change.priority,
          change.because,
          change.by ?? null
        )
      if (messages !== undefined) addMessages(messages)
    },
    alarmSlots: (tankId?: string): readonly AlarmSlot[] =>
      (tankId === undefined ? allSlots.all() : slotsOf.all(tankId)).map(
        ({ body }) => JSON.parse(body) as AlarmSlot
      ),
    alarmChanges({ tankId, activationId, fromMs, toMs, limit }: ChangesAsk): readonly AlarmChange[] {
      const span = [
        fromMs ?? Number.MIN_SAFE_INTEGER,
        toMs ?? Number.MAX_SAFE_INTEGER,
        limit === undefined ? -1 : Math.max(0, limit)
      ] as const
      const rows =
        activationId !== undefined
          ? byActivation
              .all(activationId, ...span)
              .filter((row) => tankId === undefined || row.tankId === tankId)
          : tankId !== undefined
            ? byTank.all(tankId, ...span)
            : byTime.all(...span)
      return rows.map(({ by, ...change }) => (by === null ? change : { ...change, by }))
    }
  }
}
