import type Database from 'better-sqlite3'
import type { Invite, Session } from '../tank/record.ts'
import { statement } from './statements.ts'

const columns = `SELECT id, token_hash AS tokenHash, role, label, created_at_ms AS createdAtMs,
  last_seen_ms AS lastSeenMs, ended_at_ms AS endedAtMs FROM session WHERE ended_at_ms IS NULL`

/** Who is logged in, by the hash of the token; ended sessions are not shown again. */
export function makeSessions(db: Database.Database) {
  const insert = statement(
    db,
    `INSERT INTO session (id, token_hash, role, label, created_at_ms, last_seen_ms, ended_at_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?)`
  )
  const byToken = statement<Session>(db, `${columns} AND token_hash = ?`)
  const all = statement<Session>(db, `${columns} ORDER BY created_at_ms, id`)
  const end = statement(db, 'UPDATE session SET ended_at_ms = ? WHERE id = ? AND ended_at_ms IS NULL')
  const touch = statement(db, 'UPDATE session SET last_seen_ms = max(last_seen_ms, ?) WHERE id = ?')
  const invite = statement(
    db,
    'INSERT INTO invite (code_hash, role, label, created_at_ms, expires_at_ms) VALUES (?, ?, ?, ?, ?)'
  )
  const findInvite = statement<Invite>(
    db,
    `SELECT code_hash AS codeHash, role, label, created_at_ms AS createdAtMs, expires_at_ms AS expiresAtMs
     FROM invite WHERE code_hash = ? AND expires_at_ms > ?`
  )
  const useUp = statement(db, 'DELETE FROM invite WHERE code_hash = ? OR expires_at_ms <= ?')
  return {
    addSession(session: Session): void {
      const { id, tokenHash, role, label, createdAtMs, lastSeenMs, endedAtMs } = session
      insert.run(id, tokenHash, role, label, createdAtMs, lastSeenMs, endedAtMs)
    },
    session: (tokenHash: string): Session | null => byToken.get(tokenHash) ?? null,
    sessions: (): readonly Session[] => all.all(),
    endSession: ({ id, atMs }: Readonly<{ id: string; atMs: number }>): boolean => end.run(atMs, id) === 1,
    touchSession({ id, atMs }: Readonly<{ id: string; atMs: number }>): void {
      touch.run(atMs, id)
    },
    addInvite({ codeHash, role, label, createdAtMs, expiresAtMs }: Invite): void {
      invite.run(codeHash, role, label, createdAtMs, expiresAtMs)
    },
    takeInvite({ codeHash, atMs }: Readonly<{ codeHash: string; atMs: number }>): Invite | null {
      const found = findInvite.get(codeHash, atMs) ?? null
      useUp.run(codeHash, atMs)
      return found
    }
  }
}
