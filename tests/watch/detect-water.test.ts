import { describe, expect, test } from 'vitest'
import { detectWater } from '../bench/detect-water.ts'

/** A handful of runs of each row; the whole bank is run apart and takes long. */
describe('a sample of the water rows of the fault bank', () => {
  const rows = ['probe silent', 'all silent', 'ammonia unsafe']
  test.each(rows)(
    '%s',
    (only) => {
      const [row] = detectWater({ seeds: 'sample', runs: 3, only })
      expect(row?.runs).toBeGreaterThan(0)
      expect(row?.missed).toEqual([])
    },
    120_000
  )
  test('hardness used up is told a day before pH 6.5 where KH is tested weekly', () => {
    const [row] = detectWater({ seeds: 'sample', runs: 1, only: 'hardness used up, a KH' })
    expect(row).toMatchObject({ runs: 1, missed: [] })
  }, 180_000)
})
