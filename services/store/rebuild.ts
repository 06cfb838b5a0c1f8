import type Database from 'better-sqlite3'
import type { Flag } from '../tank/reading.ts'
import { hourMs, minuteMs, type Rollups } from './rollups.ts'
import { statement } from './statements.ts'

type Row = Readonly<{ atMs: number; value: number; flag: Flag }>

/** Makes the roll-ups of a stretch anew from what counts now, and raises the revision of the series. */
export type Rebuild = ReturnType<typeof makeRebuild>

export function makeRebuild(db: Database.Database, rollups: Rollups) {
  const dropMinutes = statement(db, 'DELETE FROM rollup_minute WHERE channel = ? AND slot >= ? AND slot <= ?')
  const dropHours = statement(db, 'DELETE FROM rollup_hour WHERE channel = ? AND slot >= ? AND slot <= ?')
  const own = statement<Row>(
    db,
    `SELECT at_ms AS atMs, CASE WHEN c.quantity = 'ph-millivolts' THEN value ELSE coalesce(corrected, value) END AS value,
       coalesce(judged_flag, flag) AS flag
     FROM reading JOIN channel c ON c.key = reading.channel WHERE channel = ? AND at_ms >= ? AND at_ms < ?`
  )
  const computed = statement<Row>(
    db,
    `SELECT at_ms AS atMs, corrected AS value, coalesce(judged_flag, flag) AS flag
     FROM reading WHERE channel = ? AND at_ms >= ? AND at_ms < ? AND corrected IS NOT NULL`
  )
  const raise = statement(db, 'UPDATE channel SET revision = revision + 1 WHERE key = ?')

  /** Whole hours, so that a minute and its hour never say two things. `sourceKey`: where a computed channel comes from. */
  return (
    channel: Readonly<{ key: number; sourceKey: number | null }>,
    span: Readonly<{ fromMs: number; toMs: number }>
  ): void => {
    const [first, last] = [Math.floor(span.fromMs / hourMs), Math.floor(span.toMs / hourMs)]
    rollups.settle()
    dropMinutes.run(channel.key, first * (hourMs / minuteMs), (last + 1) * (hourMs / minuteMs) - 1)
    dropHours.run(channel.key, first, last)
    const rows =
      channel.sourceKey === null
        ? own.all(channel.key, first * hourMs, (last + 1) * hourMs)
        : computed.all(channel.sourceKey, first * hourMs, (last + 1) * hourMs)
    for (const row of rows) rollups.add(channel.key, row)
    rollups.settle()
    raise.run(channel.key)
  }
}
