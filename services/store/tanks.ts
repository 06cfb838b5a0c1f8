import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { StoredTank } from '../tank/record.ts'
import { statement } from './statements.ts'

type TankRow = Readonly<{ id: string; profile: string; createdAtMs: number; archivedAtMs: number | null }>

/** Everything of a tank, in an order that leaves no reference dangling. */
const eraseAll = [
  'DELETE FROM reading WHERE channel IN (SELECT c.key FROM channel c JOIN probe p ON p.key = c.probe WHERE p.tank_id = ?)',
  'DELETE FROM conflict WHERE channel IN (SELECT c.key FROM channel c JOIN probe p ON p.key = c.probe WHERE p.tank_id = ?)',
  'DELETE FROM rollup_minute WHERE channel IN (SELECT c.key FROM channel c JOIN probe p ON p.key = c.probe WHERE p.tank_id = ?)',
  'DELETE FROM rollup_hour WHERE channel IN (SELECT c.key FROM channel c JOIN probe p ON p.key = c.probe WHERE p.tank_id = ?)',
  'DELETE FROM channel WHERE probe IN (SELECT key FROM probe WHERE tank_id = ?)',
  'DELETE FROM probe WHERE tank_id = ?',
  'DELETE FROM derived WHERE series IN (SELECT key FROM derived_series WHERE tank_id = ?)',
  'DELETE FROM derived_hour WHERE series IN (SELECT key FROM derived_series WHERE tank_id = ?)',
  'DELETE FROM derived_series WHERE tank_id = ?',
  'DELETE FROM amendment WHERE entry IN (SELECT key FROM entry WHERE tank_id = ?)',
  'DELETE FROM entry WHERE tank_id = ?',
  'DELETE FROM known_content WHERE tank_id = ?',
  'DELETE FROM alarm_slot WHERE tank_id = ?',
  'DELETE FROM alarm_change WHERE tank_id = ?',
  'DELETE FROM outbox WHERE tank_id = ?',
  'DELETE FROM ack_link WHERE tank_id = ?',
  'DELETE FROM held WHERE tank_id = ?',
  'DELETE FROM held_dropped WHERE tank_id = ?',
  'DELETE FROM tank_before WHERE tank_id = ?',
  'DELETE FROM tank WHERE id = ?'
]

/** Tanks with their profiles; an earlier profile stays readable beside the present one. */
export function makeTanks(db: Database.Database) {
  const all = statement<TankRow>(
    db,
    'SELECT id, profile, created_at_ms AS createdAtMs, archived_at_ms AS archivedAtMs FROM tank ORDER BY created_at_ms, id'
  )
  const insert = statement(
    db,
    'INSERT INTO tank (id, profile, created_at_ms) VALUES (?, ?, ?) ON CONFLICT DO NOTHING'
  )
  const keepBefore = statement(
    db,
    'INSERT INTO tank_before (tank_id, at_ms, done_by, profile) SELECT id, ?, ?, profile FROM tank WHERE id = ?'
  )
  const change = statement(db, 'UPDATE tank SET profile = ? WHERE id = ?')
  const archive = statement(db, 'UPDATE tank SET archived_at_ms = coalesce(archived_at_ms, ?) WHERE id = ?')
  const erasures = eraseAll.map((sql) => statement(db, sql))

  const mustExist = (changes: number, id: string): void => {
    if (changes === 0) throw new HouseError('API_NOT_FOUND', `There is no tank "${id}".`)
  }

  return {
    tanks: (ask?: Readonly<{ archived?: boolean }>): readonly StoredTank[] =>
      all
        .all()
        .filter(({ archivedAtMs }) => archivedAtMs === null || ask?.archived === true)
        .map((row) => ({ ...row, profile: JSON.parse(row.profile) as TankProfile })),
    addTank: ({ id, profile, atMs }: Readonly<{ id: string; profile: TankProfile; atMs: number }>) =>
      insert.run(id, JSON.stringify(profile), atMs) === 1 ? ('added' as const) : ('taken' as const),
    changeTank(ask: Readonly<{ id: string; profile: TankProfile; atMs: number; by: string }>): void {
      keepBefore.run(ask.atMs, ask.by, ask.id)
      mustExist(change.run(JSON.stringify(ask.profile), ask.id), ask.id)
    },
    archiveTank({ id, atMs }: Readonly<{ id: string; atMs: number }>): void {
      mustExist(archive.run(atMs, id), id)
    },
    eraseTank(id: string): void {
      for (const erasure of erasures) erasure.run(id)
    }
  }
}
