import type Database from 'better-sqlite3'
import type { Flag } from '../tank/reading.ts'
import type { ReadingAsk, StoredReading } from '../tank/record.ts'
import type { ChannelRow, Channels } from './channels.ts'
import { statement } from './statements.ts'

export type RawRow = Readonly<{
  atMs: number
  value: number
  lateMs: number
  byArrival: number
  flag: Flag
  flagWhy: string | null
  judgedFlag: Flag | null
  judgedWhy: string | null
  corrected: number | null
}>
type SliceAsk = Readonly<{ tankId: string; fromMs: number; toMs: number; afterMs?: number; limit: number }>

const columns = `SELECT at_ms AS atMs, value, late_ms AS lateMs, by_arrival AS byArrival, flag, flag_why AS flagWhy,
  judged_flag AS judgedFlag, judged_why AS judgedWhy, corrected
  FROM reading WHERE channel = ? AND at_ms >= ? AND at_ms <= ?`

/** Raw readings out of the record; `fromMs` and `toMs` both belong to the stretch. */
export function makeReadings(db: Database.Database, channels: Channels) {
  const oldestFirst = statement<RawRow>(db, `${columns} ORDER BY at_ms LIMIT ?`)
  const newestFirst = statement<RawRow>(db, `${columns} ORDER BY at_ms DESC LIMIT ?`)

  const stored = (channel: ChannelRow, row: RawRow): StoredReading => ({
    tankId: channel.tankId,
    probe: channel.name,
    probeId: channel.probeId,
    quantity: channel.quantity,
    value: row.value,
    atMs: row.atMs,
    arrivedAtMs: row.atMs + row.lateMs,
    clock: row.byArrival === 1 ? 'arrival' : 'device',
    flag: row.flag,
    ...(row.flagWhy === null ? {} : { flagWhy: row.flagWhy }),
    ...(row.judgedFlag === null ? {} : { judged: { flag: row.judgedFlag, why: row.judgedWhy } }),
    ...(row.corrected === null ? {} : { corrected: row.corrected })
  })
  /** A computed channel says what its source was corrected to. */
  const computed = (channel: ChannelRow, row: RawRow): readonly StoredReading[] =>
    row.corrected === null ? [] : [{ ...stored(channel, { ...row, corrected: null }), value: row.corrected }]
  const saidBy = (channel: ChannelRow, rows: readonly RawRow[]): readonly StoredReading[] =>
    channel.madeFrom === null
      ? rows.map((row) => stored(channel, row))
      : rows.flatMap((row) => computed(channel, row))
  const inTime = (a: StoredReading, b: StoredReading): number => a.atMs - b.atMs

  return {
    readings(ask: ReadingAsk): readonly StoredReading[] {
      const asked = channels
        .rowsOf(ask.tankId)
        .filter(({ quantity }) => ask.quantity === undefined || quantity === ask.quantity)
        .filter(({ name, probeId }) => ask.probe === undefined || ask.probe === name || ask.probe === probeId)
      const limit = Math.max(0, ask.limit ?? -1)
      const found = asked.flatMap((channel) => {
        const rows =
          ask.limit === undefined
            ? oldestFirst.all(channel.madeFrom ?? channel.key, ask.fromMs, ask.toMs, -1)
            : newestFirst.all(channel.madeFrom ?? channel.key, ask.fromMs, ask.toMs, limit)
        return saidBy(channel, rows)
      })
      found.sort(inTime)
      return ask.limit === undefined || found.length <= limit ? found : found.slice(found.length - limit)
    },

    /** Whole milliseconds only: the next slice starts after the last time of this one. */
    exportSlice({ tankId, fromMs, toMs, afterMs, limit }: SliceAsk): readonly StoredReading[] {
      const startMs = afterMs === undefined ? fromMs : Math.max(fromMs, afterMs + 1)
      const most = Math.max(1, limit)
      const rows = channels.rowsOf(tankId).filter(({ madeFrom }) => madeFrom === null)
      const slice = (channel: ChannelRow, untilMs: number, count: number): StoredReading[] =>
        oldestFirst.all(channel.key, startMs, untilMs, count).map((row) => stored(channel, row))
      const found = rows.flatMap((channel) => slice(channel, toMs, most + 1)).sort(inTime)
      const next = found[most]
      if (next === undefined) return found
      const whole = found.slice(0, most).filter(({ atMs }) => atMs < next.atMs)
      if (whole.length > 0) return whole
      return rows.flatMap((channel) => slice(channel, next.atMs, -1))
    }
  }
}
