import { describe, expect, it } from 'vitest'
import { normalTail } from '../../services/series/normal-tail.ts'

/** Critical values of the standard normal distribution, as in every statistical table (from memory). */
const critical: readonly (readonly [number, number])[] = [
  [0.5, 0],
  [0.05, 1.645],
  [0.01, 2.326],
  [0.001, 3.09],
  [0.0001, 3.719],
  [0.00001, 4.265]
]

describe('tail of the normal distribution', () => {
  it.each(critical)('a share of %f begins at %f standard deviations', (share, spreads) => {
    // 4.5e-4 of the formula, 5e-4 of the table's last digit.
    expect(Math.abs(normalTail(share) - spreads)).toBeLessThan(9.5e-4)
  })
})
