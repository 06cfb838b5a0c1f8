import type Database from 'better-sqlite3'
import { type Flag, isOutOfJudgement } from '../tank/reading.ts'
import { statement } from './statements.ts'

export const minuteMs = 60_000
export const hourMs = 3_600_000

/** QARTOD flags from harmless to worst: missing, not evaluated, pass, suspect, fail. */
const byWorth: readonly Flag[] = [9, 2, 1, 3, 4]
export const worthOf = (flag: Flag): number => byWorth.indexOf(flag)
export const flagOfWorth = (worth: number): Flag => byWorth[worth] ?? 9

/** What a stretch of readings comes to; flags 4 and 9 are counted apart and touch nothing else. */
type Sum = {
  count: number
  countBad: number
  sum: number
  min: number | null
  max: number | null
  worst: number
  lastAtMs: number | null
  lastValue: number | null
}

const emptySum = (): Sum => ({
  count: 0,
  countBad: 0,
  sum: 0,
  min: null,
  max: null,
  worst: 0,
  lastAtMs: null,
  lastValue: null
})

function addReading(
  into: Sum,
  { atMs, value, flag }: Readonly<{ atMs: number; value: number; flag: Flag }>
): void {
  into.worst = Math.max(into.worst, worthOf(flag))
  if (isOutOfJudgement(flag)) {
    into.countBad += 1
    return
  }
  into.count += 1
  into.sum += value
  into.min = into.min === null ? value : Math.min(into.min, value)
  into.max = into.max === null ? value : Math.max(into.max, value)
  if (into.lastAtMs !== null && into.lastAtMs >= atMs) return
  into.lastAtMs = atMs
  into.lastValue = value
}

function addSum(into: Sum, from: Sum): void {
  into.count += from.count
  into.countBad += from.countBad
  into.sum += from.sum
  into.worst = Math.max(into.worst, from.worst)
  if (from.min !== null) into.min = into.min === null ? from.min : Math.min(into.min, from.min)
  if (from.max !== null) into.max = into.max === null ? from.max : Math.max(into.max, from.max)
  if (from.lastAtMs === null || (into.lastAtMs !== null && into.lastAtMs >= from.lastAtMs)) return
  into.lastAtMs = from.lastAtMs
  into.lastValue = from.lastValue
}

const upsertInto = (table: string): string => `INSERT INTO ${table}
  (channel, slot, count, count_bad, sum, min, max, worst, last_at_ms, last_value)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
  ON CONFLICT (channel, slot) DO UPDATE SET
    count = count + excluded.count, count_bad = count_bad + excluded.count_bad, sum = sum + excluded.sum,
    min = coalesce(min(min, excluded.min), min, excluded.min),
    max = coalesce(max(max, excluded.max), max, excluded.max),
    worst = max(worst, excluded.worst),
    last_value = CASE WHEN last_at_ms IS NULL OR excluded.last_at_ms > last_at_ms
      THEN coalesce(excluded.last_value, last_value) ELSE last_value END,
    last_at_ms = coalesce(max(last_at_ms, excluded.last_at_ms), last_at_ms, excluded.last_at_ms)`

/** One-minute and one-hour roll-ups, summed in memory and written once a batch and slot. */
export type Rollups = ReturnType<typeof makeRollups>

export function makeRollups(db: Database.Database) {
  const pending = new Map<number, Map<number, Sum>>()
  const upsertMinute = statement(db, upsertInto('rollup_minute'))
  const upsertHour = statement(db, upsertInto('rollup_hour'))

  const slotOf = (slots: Map<number, Sum>, slot: number): Sum => {
    const known = slots.get(slot)
    if (known !== undefined) return known
    const made = emptySum()
    slots.set(slot, made)
    return made
  }

  const write = (into: typeof upsertMinute, channel: number, slots: ReadonlyMap<number, Sum>): void => {
    for (const [slot, of] of slots)
      into.run(
        channel,
        slot,
        of.count,
        of.countBad,
        of.sum,
        of.min,
        of.max,
        of.worst,
        of.lastAtMs,
        of.lastValue
      )
  }

  return {
    add(channel: number, reading: Readonly<{ atMs: number; value: number; flag: Flag }>): void {
      const minutes = pending.get(channel) ?? new Map<number, Sum>()
      pending.set(channel, minutes)
      addReading(slotOf(minutes, Math.floor(reading.atMs / minuteMs)), reading)
    },
    settle(): void {
      for (const [channel, minutes] of pending) {
        const hours = new Map<number, Sum>()
        for (const [minute, of] of minutes) addSum(slotOf(hours, Math.floor(minute / 60)), of)
        write(upsertMinute, channel, minutes)
        write(upsertHour, channel, hours)
      }
      pending.clear()
    },
    forget: (): void => pending.clear()
  }
}
