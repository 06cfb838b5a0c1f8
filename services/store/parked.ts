import type Database from 'better-sqlite3'
import type { ParkedMessage } from '../tank/parked-message.ts'
import { statement } from './statements.ts'

/** More than a day of a dozen busy probes. */
export const mostParked = 100_000

type ParkedRow = Readonly<{ key: number; bootId: string; monotonicMs: number; body: string }>

/** Messages that came while the machine did not know the time. They are kept as they came, and stamped later. */
export function makeParked(db: Database.Database) {
  const insert = statement(db, 'INSERT INTO parked (boot_id, monotonic_ms, body) VALUES (?, ?, ?)')
  const count = statement<Readonly<{ count: number }>>(db, 'SELECT count(*) AS count FROM parked')
  const oldest = statement<ParkedRow>(
    db,
    'SELECT key, boot_id AS bootId, monotonic_ms AS monotonicMs, body FROM parked ORDER BY key LIMIT ?'
  )
  const drop = statement(db, 'DELETE FROM parked WHERE key <= ?')
  return {
    /** Answers false where there is no room: then the message must go on as it is. */
    parkMessage({ bootId, monotonicMs, ...message }: Omit<ParkedMessage, 'key'>): boolean {
      if ((count.get()?.count ?? 0) >= mostParked) return false
      insert.run(bootId, Math.round(monotonicMs), JSON.stringify(message))
      return true
    },
    parkedMessages: ({ limit }: Readonly<{ limit: number }>): readonly ParkedMessage[] =>
      oldest.all(limit).map(({ body, ...row }) => ({ ...row, ...(JSON.parse(body) as Body) })),
    dropParked: ({ throughKey }: Readonly<{ throughKey: number }>): void => void drop.run(throughKey)
  }
}
type Body = Omit<ParkedMessage, 'key' | 'bootId' | 'monotonicMs'>
