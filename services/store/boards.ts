import type Database from 'better-sqlite3'
import type { Board } from '../tank/record.ts'
import { statement } from './statements.ts'

type BoardRow = Omit<Board, 'tankIds'> & Readonly<{ tankIds: string }>

/** Boards with a name and a password of their own; a name is free again once its board was ended. */
export function makeBoards(db: Database.Database) {
  const insert = statement(
    db,
    `INSERT INTO board (id, name, password_hash, tank_ids, created_at_ms, ended_at_ms) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT DO NOTHING`
  )
  const all = statement<BoardRow>(
    db,
    `SELECT id, name, password_hash AS passwordHash, tank_ids AS tankIds, created_at_ms AS createdAtMs,
       ended_at_ms AS endedAtMs FROM board WHERE ended_at_ms IS NULL ORDER BY created_at_ms, id`
  )
  const end = statement(db, 'UPDATE board SET ended_at_ms = ? WHERE id = ? AND ended_at_ms IS NULL')
  return {
    addBoard({ id, name, passwordHash, tankIds, createdAtMs, endedAtMs }: Board): 'added' | 'taken' {
      const changes = insert.run(id, name, passwordHash, JSON.stringify(tankIds), createdAtMs, endedAtMs)
      return changes === 1 ? 'added' : 'taken'
    },
    boards: (): readonly Board[] =>
      all.all().map((row) => ({ ...row, tankIds: JSON.parse(row.tankIds) as string[] })),
    endBoard: ({ id, atMs }: Readonly<{ id: string; atMs: number }>): boolean => end.run(atMs, id) === 1
  }
}
