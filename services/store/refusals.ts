import type Database from 'better-sqlite3'
import type { Refusal, StoredRefusal } from '../tank/record.ts'
import { statement } from './statements.ts'

/** How many different refusals are kept, and how much of each text. */
export const refusalLimits = { rows: 500, topic: 256, payloadStart: 256, reason: 512 } as const

type RefusalRow = Omit<StoredRefusal, 'clientId'> & Readonly<{ clientId: string | null }>

/** What was refused, each kind once with its count; the newest are kept. */
export function makeRefusals(db: Database.Database) {
  const note = statement(
    db,
    `INSERT INTO refusal (topic, code, payload_start, reason, client_id, first_at_ms, last_at_ms, count)
     VALUES (?, ?, ?, ?, ?, ?, ?, 1)
     ON CONFLICT (topic, code, payload_start) DO UPDATE SET
       count = count + 1, reason = excluded.reason, client_id = coalesce(excluded.client_id, client_id),
       first_at_ms = min(first_at_ms, excluded.first_at_ms), last_at_ms = max(last_at_ms, excluded.last_at_ms)`
  )
  const dropOldest = statement(
    db,
    'DELETE FROM refusal WHERE key IN (SELECT key FROM refusal ORDER BY last_at_ms DESC, key DESC LIMIT -1 OFFSET ?)'
  )
  const newest = statement<RefusalRow>(
    db,
    `SELECT topic, payload_start AS payloadStart, code, reason, last_at_ms AS atMs, client_id AS clientId, count,
       first_at_ms AS firstAtMs FROM refusal ORDER BY last_at_ms DESC, key DESC LIMIT ?`
  )
  return {
    refuse(batch: readonly Refusal[]): void {
      for (const { topic, code, payloadStart, reason, clientId, atMs } of batch)
        note.run(
          topic.slice(0, refusalLimits.topic),
          code,
          payloadStart.slice(0, refusalLimits.payloadStart),
          reason.slice(0, refusalLimits.reason),
          clientId ?? null,
          atMs,
          atMs
        )
      dropOldest.run(refusalLimits.rows)
    },
    refusals: (ask?: Readonly<{ limit?: number }>): readonly StoredRefusal[] =>
      newest
        .all(ask?.limit ?? -1)
        .map(({ clientId, ...refusal }) => (clientId === null ? refusal : { ...refusal, clientId }))
  }
}
