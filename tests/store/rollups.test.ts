import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Flag } from '../../services/tank/reading.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { type KitchenRecord, nightMs, openKitchen, reading } from './kitchen.ts'

type RollupRow = Readonly<{
  slot: number
  count: number
  countBad: number
  mean: number | null
  min: number | null
  max: number | null
  worst: number
  lastAtMs: number | null
  lastValue: number | null
}>
const precedence: readonly Flag[] = [9, 2, 1, 3, 4]

/** Recomputed from the raw readings by the words of the rule alone. */
function expected(raw: readonly ReadingToStore[], widthMs: number): readonly RollupRow[] {
  const slots = new Map<number, ReadingToStore[]>()
  for (const one of raw) {
    const slot = Math.floor(one.atMs / widthMs)
    slots.set(slot, [...(slots.get(slot) ?? []), one])
  }
  return [...slots]
    .sort(([a], [b]) => a - b)
    .map(([slot, all]) => {
      const good = all.filter(({ flag }) => flag !== 4 && flag !== 9)
      const values = good.map(({ value }) => value)
      const last = good.toSorted((a, b) => a.atMs - b.atMs).at(-1)
      return {
        slot,
        count: good.length,
        countBad: all.length - good.length,
        mean: good.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / good.length,
        min: good.length === 0 ? null : Math.min(...values),
        max: good.length === 0 ? null : Math.max(...values),
        worst: Math.max(...all.map(({ flag }) => precedence.indexOf(flag))),
        lastAtMs: last?.atMs ?? null,
        lastValue: last?.value ?? null
      }
    })
}

const stored = (record: KitchenRecord, table: string): readonly RollupRow[] =>
  record.opened.db
    .prepare<[], RollupRow>(
      `SELECT slot, count, count_bad AS countBad, CASE count WHEN 0 THEN NULL ELSE sum / count END AS mean, min, max,
         worst, last_at_ms AS lastAtMs, last_value AS lastValue FROM ${table} ORDER BY slot`
    )
    .all()

function expectSame(found: readonly RollupRow[], wanted: readonly RollupRow[]): void {
  expect(found.map(({ mean: _mean, ...exact }) => exact)).toEqual(
    wanted.map(({ mean: _mean, ...exact }) => exact)
  )
  // Sums in another order differ in the last bits only.
  for (const [index, { mean }] of found.entries())
    if (mean === null) expect(wanted[index]?.mean).toBeNull()
    else expect(mean).toBeCloseTo(wanted[index]?.mean ?? Number.NaN, 9)
}

const anyReading = fc.record({
  value: fc.double({ min: -60, max: 120, noNaN: true }).map((value) => value + 0),
  atMs: fc.integer({ min: nightMs - 2 * 3_600_000, max: nightMs + 2 * 3_600_000 }),
  flag: fc.constantFrom<Flag>(1, 1, 1, 2, 3, 4, 9)
})

describe('roll-ups', () => {
  it('equal what the raw readings give, whatever the batches, their order and their repeats', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(anyReading, { maxLength: 30 }), { minLength: 1, maxLength: 6 }),
        fc.array(fc.nat(5), { maxLength: 4 }),
        (batches, repeats) => {
          const record = openKitchen()
          try {
            const all = [...batches, ...repeats.flatMap((at) => (batches[at] ? [batches[at]] : []))]
            const firsts = new Map<number, ReadingToStore>()
            for (const batch of all) {
              const rows = batch.map(reading)
              record.ask('appendReadings', rows)
              for (const row of rows) if (!firsts.has(row.atMs)) firsts.set(row.atMs, row)
            }
            const raw = [...firsts.values()]
            expectSame(stored(record, 'rollup_minute'), expected(raw, 60_000))
            expectSame(stored(record, 'rollup_hour'), expected(raw, 3_600_000))
            expect(record.ask('health').readings).toBe(raw.length)
          } finally {
            record.close()
          }
        }
      ),
      { numRuns: 60 }
    )
  })

  it('equal the raw readings also for a burst on arrival time that runs over a minute', () => {
    const record = openKitchen()
    const atMs = nightMs + 59_990
    record.ask(
      'appendReadings',
      Array.from({ length: 25 }, (_, index) => reading({ clock: 'arrival', atMs, value: index }))
    )
    const raw = record.ask('readings', { tankId: 'kitchen', fromMs: 0, toMs: nightMs * 2 })
    expectSame(stored(record, 'rollup_minute'), expected(raw, 60_000))
    expect(stored(record, 'rollup_minute').map(({ count }) => count)).toEqual([10, 15])
    record.close()
  })

  it('count a minute of failed readings without giving it a value', () => {
    const record = openKitchen()
    record.ask('appendReadings', [
      reading({ value: -127, flag: 4 }),
      reading({ atMs: nightMs + 1, value: 85, flag: 9 })
    ])
    expect(stored(record, 'rollup_minute')).toEqual([
      {
        slot: nightMs / 60_000,
        count: 0,
        countBad: 2,
        mean: null,
        min: null,
        max: null,
        worst: 4,
        lastAtMs: null,
        lastValue: null
      }
    ])
    record.close()
  })
})
