import { expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { fishTank, hourMs, inOrder, probe, run, startMs } from './a-tank-week.ts'

const kit = (hours: number, quantity: 'chloride' | 'nitrite', value: number): ReplayRow => ({
  kind: 'test',
  line: 0,
  atMs: startMs + hours * hourMs,
  results: [{ quantity, value, unit: 'mg/L' }]
})
const half = (hours: number): ReplayRow => ({
  kind: 'event',
  line: 0,
  atMs: startMs + hours * hourMs,
  event: 'water-changed',
  data: { fraction: 0.5 }
})
const priorities = (changes: readonly ReplayRow[]) =>
  run(
    inOrder(probe('t1', 'temperature', { hours: 12, at: () => 25 }), [
      kit(1, 'chloride', 60),
      ...changes,
      kit(10, 'nitrite', 1.5)
    ]),
    fishTank
  )
    .changes.filter(({ alarm }) => alarm === 'nitrite-unsafe')
    .map(({ priority }) => priority)

test('chloride guards while it is there: ten times the nitrite is one tier milder', () => {
  expect(priorities([])).toEqual(['high'])
})
test('water changes take it out: of 60 mg/L an eighth is left, five times the nitrite, and the tier is plain', () => {
  // 60/8 = 7.5 mg/L, 5 times 1.5 mg N/L: between 3 and 10.
  expect(priorities([half(3), half(5), half(7)])).toEqual(['critical'])
})
