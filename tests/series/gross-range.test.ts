import { describe, expect, test } from 'vitest'
import { flagGrossRange } from '../../services/series/gross-range.ts'

/* Vectors: ioos/ioos_qc at commit 9c1853a, tests/test_qartod.py, gross range: fail 10 to 50, suspect 20 to 40. */
const limits = { fail: [10, 50], suspect: [20, 40] } as const
const flags = (values: readonly (number | null)[]) => values.map((value) => flagGrossRange(value, limits))

describe('the gross range test', () => {
  test('agrees with the reference library, ends of the spans included', () => {
    expect(flags([5, 10, 15, 20, 25, 30, 35, 40, 45, 51])).toEqual([4, 3, 3, 1, 1, 1, 1, 1, 3, 4])
  })
  test('agrees with the reference library where values are missing', () => {
    expect(flags([null, 10, 15, 20, 25, 30, 35, 40, Number.NaN, 51, null])).toEqual([
      9, 3, 3, 1, 1, 1, 1, 1, 9, 4, 9
    ])
  })
  test('without a suspect span there is only pass and fail', () => {
    expect([9, 10, 50, 51].map((value) => flagGrossRange(value, { fail: [10, 50] }))).toEqual([4, 1, 1, 4])
  })
})
