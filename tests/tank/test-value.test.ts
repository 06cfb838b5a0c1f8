import { describe, expect, test } from 'vitest'
import type { TestResult } from '../../services/tank/manual-test.ts'
import { testValue } from '../../services/tank/test-value.ts'
import { profile } from './a-profile.ts'

const value = (result: TestResult, steps?: Readonly<Record<string, readonly number[]>>) =>
  testValue(result, 0, { ...profile.kit, ...(steps === undefined ? {} : { steps }) })

describe('a result in the unit used inside', () => {
  // Source of the factors: molar masses (IUPAC): NH3/N 1.21589, NH4/N 1.28786, NO2/N 3.28450; 1 meq/L = 2.804 dKH.
  const cases: readonly Readonly<{ name: string; result: TestResult; inside: number }>[] = [
    {
      name: 'ammonia as NH3',
      result: { quantity: 'ammonia', value: 1.21589, unit: 'mg/L', basis: 'NH3' },
      inside: 1
    },
    {
      name: 'ammonia as NH4',
      result: { quantity: 'ammonia', value: 1.28786, unit: 'mg/L', basis: 'NH4' },
      inside: 1
    },
    {
      name: 'ammonia in the basis of the kit',
      result: { quantity: 'ammonia', value: 0.5, unit: 'mg/L' },
      inside: 0.5
    },
    {
      name: 'nitrite as the ion',
      result: { quantity: 'nitrite', value: 3.2845, unit: 'mg/L', basis: 'NO2' },
      inside: 1
    },
    { name: 'ammonia in ug/L', result: { quantity: 'ammonia', value: 250, unit: 'ug/L' }, inside: 0.25 },
    { name: 'ammonia in mmol/L', result: { quantity: 'ammonia', value: 1, unit: 'mmol/L' }, inside: 14.007 },
    { name: 'KH in ppm', result: { quantity: 'kh', value: 17.848, unit: 'ppm CaCO3' }, inside: 1 },
    { name: 'KH in mmol/L of acid', result: { quantity: 'kh', value: 1, unit: 'mmol/L' }, inside: 2.804 },
    {
      name: 'GH in mmol/L of calcium and magnesium',
      result: { quantity: 'gh', value: 1, unit: 'mmol/L' },
      inside: 5.608
    },
    { name: 'temperature in degF', result: { quantity: 'temperature', value: 77, unit: 'degF' }, inside: 25 },
    {
      name: 'a sample diluted four times',
      result: { quantity: 'nitrite', value: 1, unit: 'mg/L', dilutedTimes: 4 },
      inside: 4
    }
  ]
  test.each(cases)('$name', ({ result, inside }) => {
    expect(value(result)?.value).toBeCloseTo(inside, 3)
  })

  test('is refused where unit and quantity do not fit', () => {
    expect(value({ quantity: 'ph', value: 7, unit: 'mg/L' })).toBeNull()
    expect(value({ quantity: 'ammonia', value: 7, unit: 'dKH' })).toBeNull()
  })
})

describe('the doubt of a result', () => {
  const steps = { ammonia: [0, 0.25, 0.5, 1, 2, 4] }
  test('is half the way to the neighbouring steps of the kit', () => {
    expect(value({ quantity: 'ammonia', value: 0.5, unit: 'mg/L' }, steps)).toMatchObject({
      low: 0.375,
      high: 0.75
    })
  })
  test('below the first step is not zero', () => {
    const below = value({ quantity: 'ammonia', value: 0.25, unit: 'mg/L', atMost: true }, steps)
    expect(below).toMatchObject({ value: 0.125, low: 0, high: 0.25 })
  })
  test('above the last step reaches well beyond it', () => {
    expect(value({ quantity: 'ammonia', value: 4, unit: 'mg/L', atLeast: true }, steps)?.high).toBe(8)
  })
})
