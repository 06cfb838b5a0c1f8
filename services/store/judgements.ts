import type Database from 'better-sqlite3'
import type { Judgement } from '../tank/probe-notes.ts'
import type { Flag } from '../tank/reading.ts'
import type { ChannelRow, Channels } from './channels.ts'
import type { Rebuild } from './rebuild.ts'
import { hourMs } from './rollups.ts'
import { statement } from './statements.ts'

/** The later judgement of stored readings, beside the flag they came with. */
export function makeJudgements(
  db: Database.Database,
  { channels, rebuild }: { channels: Channels; rebuild: Rebuild }
) {
  const change = statement(
    db,
    `UPDATE reading SET judged_flag = CASE WHEN flag = ? THEN NULL ELSE ? END,
       judged_why = CASE WHEN flag = ? THEN NULL ELSE ? END
     WHERE channel = ? AND at_ms = ? AND coalesce(judged_flag, flag) <> ?`
  )
  const flagAt = statement<Readonly<{ flag: Flag }>>(
    db,
    'SELECT coalesce(judged_flag, flag) AS flag FROM reading WHERE channel = ? AND at_ms = ?'
  )

  /** A computed channel has no readings of its own: the judgement lies beside what it was computed from. */
  const judge = (source: ChannelRow, { flag, why, atMs }: Judgement, isComputed: boolean): boolean => {
    if (isComputed && flagAt.get(source.key, atMs)?.flag === 4 && flag !== 4) return false
    return change.run(flag, flag, flag, why, source.key, atMs, flag) === 1
  }

  return {
    judgeReadings(batch: readonly Judgement[]): number {
      let changed = 0
      const rowsOf = new Map<string, readonly ChannelRow[]>()
      /** Touched hours of each channel that shows them. */
      const touched = new Map<number, { sourceKey: number | null; hours: Set<number> }>()
      for (const judgement of batch) {
        const { tankId, probe, quantity, atMs } = judgement
        const rows = rowsOf.get(tankId) ?? channels.rowsOf(tankId)
        rowsOf.set(tankId, rows)
        const channel = rows.find((row) => row.quantity === quantity && isCalled(row, probe))
        const source = rows.find((row) => row.key === (channel?.madeFrom ?? channel?.key))
        if (channel === undefined || source === undefined) continue
        if (!judge(source, judgement, channel.madeFrom !== null)) continue
        changed += 1
        const shown = rows.filter((row) => row.key === source.key || row.madeFrom === source.key)
        for (const { key, madeFrom } of shown) {
          const of = touched.get(key) ?? { sourceKey: madeFrom, hours: new Set() }
          of.hours.add(Math.floor(atMs / hourMs))
          touched.set(key, of)
        }
        channels.noteJudged(source.key, judgement)
      }
      for (const [key, { sourceKey, hours }] of touched)
        for (const hour of hours)
          rebuild({ key, sourceKey }, { fromMs: hour * hourMs, toMs: (hour + 1) * hourMs - 1 })
      return changed
    }
  }
}

/** A board calls its probe as it always did, the page as the keeper named it. */
const isCalled = (row: ChannelRow, probe: string): boolean => row.name === probe || row.heardAs === probe
