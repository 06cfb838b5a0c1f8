import { expect, test } from 'vitest'
import { batchNitrification } from '../../services/water/batch-nitrification.ts'
import { makeWalker } from '../../services/water/runge-kutta.ts'
import { comparisons, filters } from './independent.ts'
import { must } from './must.ts'

test.each(
  comparisons().map(
    (one) =>
      [`${one.about} agrees with ${one.with} within ${one.bound} ${one.unit} (${one.why})`, one] as const
  )
)('%s', (_title, { deviations, bound }) => {
  expect(deviations.length).toBeGreaterThan(5)
  expect(deviations.every((deviation) => Number.isFinite(deviation))).toBe(true)
  expect(Math.max(...deviations)).toBeLessThanOrEqual(bound)
  // A reference that never differs at all would be our own formula in disguise.
  expect(Math.max(...deviations)).toBeGreaterThan(0)
})

test('halving the step of the solver makes its error sixteen times smaller, as its order promises', () => {
  // y' = -y, whose solution is known: exp(-t).
  const errorWith = (steps: number): number => {
    const state = Float64Array.of(1)
    const walk = makeWalker((y, into) => {
      into[0] = -(y[0] as number)
    }, 1)
    for (let i = 0; i < steps; i += 1) walk(state, 2 / steps)
    return Math.abs((state[0] as number) - Math.exp(-2))
  }
  for (const steps of [10, 20, 40]) {
    const gain = errorWith(steps) / errorWith(2 * steps)
    expect(gain).toBeGreaterThan(14)
    expect(gain).toBeLessThan(18)
  }
})

test('the nitrogen of a dose is neither lost nor made, on any day of any filter', () => {
  for (const filter of filters) {
    const { tan, nitrite, nitrate } = must(batchNitrification(filter))
    expect(tan).toHaveLength(filter.days + 1)
    for (const [day, value] of tan.entries()) {
      const sum = value + (nitrite[day] ?? Number.NaN) + (nitrate[day] ?? Number.NaN)
      expect(Math.abs(sum - filter.tanMgLAsN)).toBeLessThan(1e-9)
    }
  }
})
