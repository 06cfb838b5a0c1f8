import type Database from 'better-sqlite3'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { TestQuantity } from '../tank/quantity.ts'
import type { EntryAsk, SeriesPoint } from '../tank/record.ts'
import { testValues } from '../tank/test-value.ts'
import { statement } from './statements.ts'

type Ask = Readonly<{ tankId: string; quantity: TestQuantity; fromMs: number; toMs: number }>

/**
 * Typed-in results as points of a series, in the unit used inside: mean is the result, min and max the span in
 * which the truth lies; max is null above the kit's last step. The flag says that no test of quality was run.
 */
export function makeTestPoints(db: Database.Database, tests: (ask: EntryAsk) => readonly ManualTest[]) {
  const profileOf = statement<Readonly<{ profile: string }>>(db, 'SELECT profile FROM tank WHERE id = ?')
  return ({ tankId, quantity, fromMs, toMs }: Ask): readonly SeriesPoint[] => {
    const stored = profileOf.get(tankId)
    if (stored === undefined) return []
    const { kit } = JSON.parse(stored.profile) as TankProfile
    return testValues(tests({ tankId, fromMs, toMs }), quantity, kit).map(
      ({ atMs, value, low, high, atLeast }) => ({
        atMs,
        mean: value,
        min: low,
        max: atLeast ? null : high,
        count: 1,
        countBad: 0,
        flag: 2
      })
    )
  }
}
