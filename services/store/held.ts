import type Database from 'better-sqlite3'
import type { AppendAnswer, HeldTank, ReadingToStore } from '../tank/record.ts'
import type { Append } from './append.ts'
import { statement } from './statements.ts'

/** How much waits for a tank that may never come: enough for a day of a few probes, too little to fill a disk. */
export const heldLimits = { readings: 20_000, tanks: 50 } as const

type TankCount = Readonly<{ tankId: string; count: number }>
type HeldSummary = TankCount & Readonly<{ firstAtMs: number; lastAtMs: number; dropped: number }>

/** Readings of tanks that do not exist yet. */
export function makeHeld(db: Database.Database, append: Append, hasTank: (tankId: string) => boolean) {
  const insert = statement(db, 'INSERT INTO held (tank_id, probe, arrived_at_ms, body) VALUES (?, ?, ?, ?)')
  const total = statement<Readonly<{ count: number }>>(db, 'SELECT count(*) AS count FROM held')
  const oldest = statement<TankCount>(
    db,
    'SELECT tank_id AS tankId, count(*) AS count FROM (SELECT tank_id FROM held ORDER BY key LIMIT ?) GROUP BY tank_id'
  )
  const dropOldest = statement(
    db,
    'DELETE FROM held WHERE key IN (SELECT key FROM held ORDER BY key LIMIT ?)'
  )
  const quietest = statement<TankCount>(
    db,
    'SELECT tank_id AS tankId, count(*) AS count FROM held GROUP BY tank_id ORDER BY max(key) DESC LIMIT -1 OFFSET ?'
  )
  const dropTank = statement(db, 'DELETE FROM held WHERE tank_id = ?')
  const countDropped = statement(
    db,
    `INSERT INTO held_dropped (tank_id, count) VALUES (?, ?)
     ON CONFLICT (tank_id) DO UPDATE SET count = count + excluded.count`
  )
  const forgetDropped = statement(
    db,
    'DELETE FROM held_dropped WHERE tank_id NOT IN (SELECT tank_id FROM held)'
  )
  const summaries = statement<HeldSummary>(
    db,
    `SELECT h.tank_id AS tankId, count(*) AS count, min(arrived_at_ms) AS firstAtMs, max(arrived_at_ms) AS lastAtMs,
       coalesce((SELECT d.count FROM held_dropped d WHERE d.tank_id = h.tank_id), 0) AS dropped
     FROM held h GROUP BY h.tank_id ORDER BY min(h.key)`
  )
  const probesOf = statement<Readonly<{ probe: string }>>(
    db,
    'SELECT DISTINCT probe FROM held WHERE tank_id = ? ORDER BY probe LIMIT 50'
  )
  const bodies = statement<Readonly<{ body: string }>>(
    db,
    'SELECT body FROM held WHERE tank_id = ? ORDER BY key'
  )

  function keepBounds(): void {
    const over = (total.get()?.count ?? 0) - heldLimits.readings
    if (over > 0) {
      for (const { tankId, count } of oldest.all(over)) countDropped.run(tankId, count)
      dropOldest.run(over)
    }
    for (const { tankId } of quietest.all(heldLimits.tanks)) dropTank.run(tankId)
    forgetDropped.run()
  }

  return {
    holdReadings(batch: readonly ReadingToStore[]): void {
      let held = 0
      for (const reading of batch) {
        // The tank may have been made while the reading was on its way.
        if (hasTank(reading.tankId)) append.one(reading)
        else held += insert.run(reading.tankId, reading.probe, reading.arrivedAtMs, JSON.stringify(reading))
      }
      if (held > 0) keepBounds()
    },
    heldTanks: (): readonly HeldTank[] =>
      summaries
        .all()
        .map((summary) => ({ ...summary, probes: probesOf.all(summary.tankId).map(({ probe }) => probe) })),
    admitHeld(tankId: string): readonly AppendAnswer[] {
      const answers = bodies.all(tankId).map(({ body }) => append.one(JSON.parse(body) as ReadingToStore))
      if (hasTank(tankId)) {
        dropTank.run(tankId)
        forgetDropped.run()
      }
      return answers
    }
  }
}
