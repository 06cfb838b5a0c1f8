import { expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { fishTank, hourMs, inOrder, minuteMs, probe, run, startMs } from './a-tank-week.ts'

const at = (hours: number): number => startMs + hours * hourMs

/** Six hours with ammonia in the water; for half an hour from the third on the electrode says something else. */
function linesOf(given: Readonly<{ cupPH: number; handsFrom: number | null }>): readonly string[] {
  const temperature = probe('t1', 'temperature', { hours: 6, at: () => 24.5 })
  const ph = probe('p1', 'ph', {
    hours: 6,
    at: (hours) => (hours > 3 && hours < 3.5 ? given.cupPH : 7.3)
  })
  const hands: ReplayRow[] =
    given.handsFrom === null
      ? []
      : [
          {
            kind: 'event',
            line: 0,
            atMs: at(given.handsFrom) - minuteMs,
            event: 'maintenance-started',
            data: { minutes: 60 }
          }
        ]
  const test: ReplayRow = {
    kind: 'test',
    line: 0,
    atMs: at(1),
    results: [{ quantity: 'ammonia', value: 0.4, unit: 'mg/L' }]
  }
  return run(inOrder(temperature, ph, [test], hands), fishTank).lines.filter((line) => /ammonia/.test(line))
}

test('an electrode in a cup of buffer is no toxic water while hands are in the tank', () => {
  expect(linesOf({ cupPH: 9.18, handsFrom: 3 })).toEqual([])
  expect(linesOf({ cupPH: 9.9, handsFrom: 3 })).toEqual([])
})

test('the same pH without hands in the tank rings, and so does one that water can have', () => {
  const rings = expect.stringMatching(/^3\.\d ammonia-unsafe normal>unacknowledged/)
  expect(linesOf({ cupPH: 9.18, handsFrom: null })).toContainEqual(rings)
  expect(linesOf({ cupPH: 8.8, handsFrom: 3 })).toContainEqual(rings)
})
