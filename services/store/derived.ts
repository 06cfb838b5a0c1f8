import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import type { DerivedQuantity } from '../tank/quantity.ts'
import type { ReplaceDerived } from '../tank/record.ts'
import type { BucketRow } from './buckets.ts'
import { hourMs, worthOf } from './rollups.ts'
import { statement, stepOf, stepWidth } from './statements.ts'

type SeriesHead = Readonly<{ key: number; revision: number }>
type DerivedAsk = Readonly<{ tankId: string; quantity: DerivedQuantity; fromMs: number; toMs: number }>

const pass = worthOf(1)

/** Series the watch computed, with their hours; a stretch is replaced whole. */
export type Derived = ReturnType<typeof makeDerived>

export function makeDerived(db: Database.Database, hasTank: (tankId: string) => boolean) {
  const head = statement<SeriesHead>(
    db,
    'SELECT key, revision FROM derived_series WHERE tank_id = ? AND quantity = ?'
  )
  const begin = statement(
    db,
    'INSERT INTO derived_series (tank_id, quantity) VALUES (?, ?) ON CONFLICT DO NOTHING'
  )
  const raise = statement(db, 'UPDATE derived_series SET revision = revision + 1 WHERE key = ?')
  const drop = statement(db, 'DELETE FROM derived WHERE series = ? AND at_ms >= ? AND at_ms <= ?')
  const add = statement(
    db,
    `INSERT INTO derived (series, at_ms, value, low, high) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (series, at_ms) DO UPDATE SET value = excluded.value, low = excluded.low, high = excluded.high`
  )
  const dropHours = statement(db, 'DELETE FROM derived_hour WHERE series = ? AND slot >= ? AND slot <= ?')
  const addHours = statement(
    db,
    `INSERT INTO derived_hour (series, slot, count, sum, min, max)
     SELECT series, ${stepOf('at_ms')} / ${hourMs} AS slot, count(*), sum(value), min(low), max(high)
     FROM ${stepWidth}, derived WHERE series = ? AND at_ms >= ? AND at_ms < ? GROUP BY slot`
  )
  const points = statement<BucketRow>(
    db,
    `SELECT ${stepOf('at_ms')} AS atMs, count(*) AS count, 0 AS countBad, sum(value) AS sum, min(low) AS min,
       max(high) AS max, ${pass} AS worst
     FROM ${stepWidth}, derived WHERE series = ? AND at_ms >= ? AND at_ms <= ? GROUP BY 1 ORDER BY 1`
  )
  const hours = statement<BucketRow>(
    db,
    `SELECT ${stepOf('slot')} * ${hourMs} AS atMs, sum(count) AS count, 0 AS countBad, sum(sum) AS sum,
       min(min) AS min, max(max) AS max, ${pass} AS worst
     FROM ${stepWidth}, derived_hour WHERE series = ? AND slot >= ? AND slot <= ? GROUP BY 1 ORDER BY 1`
  )

  return {
    /** Both ends of the stretch belong to it. */
    replaceDerived(ask: ReplaceDerived): Readonly<{ revision: number }> {
      if (!hasTank(ask.tankId))
        throw new HouseError('API_NOT_FOUND', `There is no tank "${ask.tankId}" to keep a series of.`)
      begin.run(ask.tankId, ask.quantity)
      const series = head.get(ask.tankId, ask.quantity)
      if (series === undefined)
        throw new HouseError('RECORD_FAILED', 'The derived series could not be begun.')
      drop.run(series.key, ask.fromMs, ask.toMs)
      let firstMs = ask.fromMs
      let lastMs = ask.toMs
      for (const { atMs, value, low, high } of ask.points) {
        add.run(series.key, atMs, value, low, high)
        firstMs = Math.min(firstMs, atMs)
        lastMs = Math.max(lastMs, atMs)
      }
      const [from, to] = [Math.floor(firstMs / hourMs), Math.floor(lastMs / hourMs)]
      dropHours.run(series.key, from, to)
      addHours.run(hourMs, series.key, from * hourMs, (to + 1) * hourMs)
      if (ask.revise) raise.run(series.key)
      return { revision: series.revision + (ask.revise ? 1 : 0) }
    },

    rows(ask: DerivedAsk, stepMs: number): Readonly<{ revision: number; rows: readonly BucketRow[] }> {
      const series = head.get(ask.tankId, ask.quantity)
      if (series === undefined) return { revision: 0, rows: [] }
      const rows =
        stepMs >= hourMs
          ? hours.all(
              stepMs / hourMs,
              series.key,
              Math.floor(ask.fromMs / hourMs),
              Math.floor(ask.toMs / hourMs)
            )
          : points.all(stepMs, series.key, ask.fromMs, ask.toMs)
      return { revision: series.revision, rows }
    }
  }
}
