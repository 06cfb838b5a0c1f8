import { describe, expect, test } from 'vitest'
import { hireCrew } from '../bench/detect-crew.ts'
import { type DetectRow, runWater, waterRow, waterSeeds } from '../bench/detect-water.ts'

/** A row of the bank, here and now. */
function rowOf(row: string, runs: number): DetectRow {
  const seeds = waterSeeds(row, { seeds: 'sample', runs })
  return waterRow(
    row,
    seeds.map((seed) => ({ seed, run: runWater(row, seed) }))
  )
}

/** A handful of runs of each row; the whole bank is run apart and takes long. */
describe('a sample of the water rows of the fault bank', () => {
  test.each(['probe silent', 'all silent', 'ammonia unsafe by rising pH'])(
    '%s',
    (name) => {
      const row = rowOf(name, 3)
      expect(row.runs).toBeGreaterThan(0)
      expect(row.missed).toEqual([])
    },
    120_000
  )
  test('hardness used up is told a day before pH 6.5 where KH is tested weekly', () => {
    expect(rowOf('hardness used up, a KH test a week', 1)).toMatchObject({ runs: 1, missed: [] })
  }, 180_000)
})

test('the figures are the same however many work at them', async () => {
  const name = 'probe silent'
  const seeds = waterSeeds(name, { seeds: 'sample', runs: 5 })
  for (const size of [1, 3]) {
    const crew = hireCrew(size)
    expect(waterRow(name, await crew.water(name, seeds))).toEqual(rowOf(name, 5))
    await crew.dismiss()
  }
}, 120_000)
