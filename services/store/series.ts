import type Database from 'better-sqlite3'
import { derivedQuantities, isQuantity, isTestQuantity } from '../tank/quantity.ts'
import { type Flag, isOutOfJudgement } from '../tank/reading.ts'
import type { SeriesAnswer, SeriesAsk } from '../tank/record.ts'
import { type BucketRow, gatherBuckets, pointOf, rowOf, usualDistanceMs } from './buckets.ts'
import type { ChannelRow, Channels } from './channels.ts'
import type { Derived } from './derived.ts'
import type { Entries } from './entries.ts'
import { hourMs, minuteMs, worthOf } from './rollups.ts'
import { statement, stepOf, stepWidth } from './statements.ts'

type RawPoint = Readonly<{ atMs: number; value: number; flag: Flag }>
type Parts = Readonly<{ channels: Channels; derived: Derived; entries: Entries }>

const fromRollup = (table: string, widthMs: number): string =>
  `SELECT ${stepOf('slot')} * ${widthMs} AS atMs, sum(count) AS count, sum(count_bad) AS countBad, sum(sum) AS sum,
     min(min) AS min, max(max) AS max, max(worst) AS worst
   FROM ${stepWidth}, ${table} WHERE channel = ? AND slot >= ? AND slot <= ? GROUP BY 1 ORDER BY 1`

const rowOfReading = ({ atMs, value, flag }: RawPoint): BucketRow => {
  const bad = isOutOfJudgement(flag)
  return {
    atMs,
    count: bad ? 0 : 1,
    countBad: bad ? 1 : 0,
    sum: bad ? 0 : value,
    min: bad ? null : value,
    max: bad ? null : value,
    worst: worthOf(flag)
  }
}

/** The step that gives at most about so many points: whole hours, whole minutes, or whole seconds. */
export function stepFor({ fromMs, toMs, points }: Pick<SeriesAsk, 'fromMs' | 'toMs' | 'points'>): number {
  const wantedMs = Math.max(1, (toMs - fromMs) / Math.max(1, points))
  const unitMs = wantedMs > hourMs - minuteMs ? hourMs : wantedMs > minuteMs - 1000 ? minuteMs : 1000
  return Math.ceil(wantedMs / unitMs) * unitMs
}

/** Series for the page, each from the coarsest level that still fits the asked number of points. */
export function makeSeries(db: Database.Database, { channels, derived, entries }: Parts) {
  const minutes = statement<BucketRow>(db, fromRollup('rollup_minute', minuteMs))
  const hours = statement<BucketRow>(db, fromRollup('rollup_hour', hourMs))
  const raw = statement<RawPoint>(
    db,
    `SELECT at_ms AS atMs, coalesce(corrected, value) AS value, coalesce(judged_flag, flag) AS flag FROM reading
     WHERE channel = ? AND at_ms >= ? AND at_ms <= ? ORDER BY at_ms LIMIT ?`
  )
  const millivolts = statement<RawPoint>(
    db,
    `SELECT at_ms AS atMs, value, coalesce(judged_flag, flag) AS flag FROM reading
     WHERE channel = ? AND at_ms >= ? AND at_ms <= ? ORDER BY at_ms LIMIT ?`
  )
  const computed = statement<RawPoint>(
    db,
    `SELECT at_ms AS atMs, corrected AS value, coalesce(judged_flag, flag) AS flag FROM reading
     WHERE channel = ? AND at_ms >= ? AND at_ms <= ? AND corrected IS NOT NULL ORDER BY at_ms LIMIT ?`
  )

  function channelOf(ask: SeriesAsk): ChannelRow | undefined {
    const all = channels.rowsOf(ask.tankId).filter(({ quantity }) => quantity === ask.quantity)
    if (ask.probe !== undefined)
      return all.find(({ probeId }) => probeId === ask.probe) ?? all.find(({ name }) => name === ask.probe)
    return all.find(({ leading }) => leading === 1) ?? all[0]
  }

  function ofChannel(row: ChannelRow, ask: SeriesAsk): SeriesAnswer {
    const { key: channel, revision } = row
    const stepMs = stepFor(ask)
    if (stepMs >= minuteMs) {
      const [level, widthMs] = stepMs >= hourMs ? [hours, hourMs] : [minutes, minuteMs]
      const slots = [Math.floor(ask.fromMs / widthMs), Math.floor(ask.toMs / widthMs)] as const
      const rows = level.all(stepMs / widthMs, channel, ...slots)
      return { revision, stepMs, points: rows.map(pointOf) }
    }
    const source = row.madeFrom ?? channel
    const level = row.madeFrom !== null ? computed : row.quantity === 'ph-millivolts' ? millivolts : raw
    const few = level.all(source, ask.fromMs, ask.toMs, ask.points + 1)
    if (few.length <= ask.points) return asTheyAre(few.map(rowOfReading), revision)
    const all = level.all(source, ask.fromMs, ask.toMs, -1).map(rowOfReading)
    return { revision, stepMs, points: gatherBuckets(all, stepMs) }
  }

  function ofTests(ask: SeriesAsk): SeriesAnswer {
    const points = isTestQuantity(ask.quantity) ? entries.testPoints({ ...ask, quantity: ask.quantity }) : []
    if (points.length <= ask.points) return { revision: 0, stepMs: usualDistanceMs(points), points }
    const stepMs = stepFor(ask)
    return { revision: 0, stepMs, points: gatherBuckets(points.map(rowOf), stepMs) }
  }

  return {
    series(ask: SeriesAsk): SeriesAnswer {
      const derivedQuantity = derivedQuantities.find((one) => one === ask.quantity)
      if (derivedQuantity !== undefined) {
        // Derived series are kept at whole minutes, so that no finer step says more.
        const stepMs = Math.max(stepFor(ask), minuteMs)
        const { revision, rows } = derived.rows({ ...ask, quantity: derivedQuantity }, stepMs)
        return { revision, stepMs, points: rows.map(pointOf) }
      }
      const channel = isQuantity(ask.quantity) ? channelOf(ask) : undefined
      // A keeper without that probe types it in: the tests then are the series.
      return channel === undefined ? ofTests(ask) : ofChannel(channel, ask)
    }
  }
}

function asTheyAre(rows: readonly BucketRow[], revision: number): SeriesAnswer {
  const points = rows.map(pointOf)
  return { revision, stepMs: usualDistanceMs(points), points }
}
