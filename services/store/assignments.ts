import type Database from 'better-sqlite3'
import type { Assignment } from '../tank/assignment.ts'
import { statement } from './statements.ts'

/** Foreign topics that the keeper gave a meaning. They go with their tank. */
export function makeAssignments(db: Database.Database) {
  const insert = statement(
    db,
    `INSERT INTO assignment (id, topic, pointer, quantity, unit, tank_id, probe, made_at_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`
  )
  const all = statement<Assignment>(
    db,
    `SELECT id, topic, pointer, quantity, unit, tank_id AS tankId, probe, made_at_ms AS madeAtMs
     FROM assignment ORDER BY made_at_ms, id`
  )
  const remove = statement(db, 'DELETE FROM assignment WHERE id = ?')
  return {
    addAssignment(assignment: Assignment): 'added' | 'taken' {
      const { id, topic, pointer, quantity, unit, tankId, probe, madeAtMs } = assignment
      return insert.run(id, topic, pointer, quantity, unit, tankId, probe, madeAtMs) === 1 ? 'added' : 'taken'
    },
    assignments: (): readonly Assignment[] => all.all(),
    removeAssignment: (id: string): boolean => remove.run(id) === 1
  }
}
