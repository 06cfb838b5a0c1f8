import { describe, expect, test, vi } from 'vitest'
import { alikeFigures, faultFigures, livesOf } from '../bench/detect-heater.ts'
import type { HeaterTrouble } from '../bench/heater-fault.ts'
import { poisson } from '../bench/poisson.ts'

// Weeks of tanks, minute by minute.
vi.setConfig({ testTimeout: 60_000 })

/** A handful of runs of each row; the whole bank is run apart. Seeds of their own, not those of tuning or reporting. */
const seeds = 'sample'
const runs = 16

describe('a sample of the heater rows of the fault bank', () => {
  test.each<readonly [HeaterTrouble, number]>([
    ['not-heating', 0.7],
    ['unplugged-after-change', 0.7],
    ['stuck-on', 0.7]
  ])(
    '%s is found by the judgement in most runs, and by it or a plain limit in nearly all',
    (trouble, least) => {
      const figures = faultFigures(trouble, livesOf(trouble, { seeds, runs }), 'all')
      expect(figures.shown).toBeGreaterThan(runs / 2)
      expect(figures.found / figures.shown).toBeGreaterThanOrEqual(least)
      expect(figures.eitherFound).toBeGreaterThanOrEqual(figures.shown - 1)
    }
  )
  test('with its power known a weak heater is named within a day', () => {
    const lives = livesOf('weak-heater', { seeds, runs: 4, wish: { withHeaterPower: true } })
    const figures = faultFigures('weak-heater', lives, 'all')
    expect(figures.shown).toBeGreaterThan(0)
    expect(figures.within24h).toBe(figures.shown)
  })
  test.each<HeaterTrouble>(['window', 'cold-room', 'told-change'])('%s: hardly ever a word', (trouble) => {
    const { quiet } = alikeFigures(trouble, livesOf(trouble, { seeds, runs }))
    expect(quiet).toBeGreaterThanOrEqual(runs - 1)
  })
})

test.each([
  // Source: Garwood's table of 95 % limits for a Poisson count (from memory): 0: 0 to 3.689; 1: 0.0253 to 5.572; 10: 4.795 to 18.390.
  [0, 0, 3.689],
  [1, 0.0253, 5.572],
  [10, 4.795, 18.39]
])('%i events in a year lie between %f and %f', (count, low, high) => {
  const interval = poisson(count, 1)
  expect(interval.low).toBeCloseTo(low, 2)
  expect(interval.high).toBeCloseTo(high, 2)
})
