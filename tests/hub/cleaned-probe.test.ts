import { expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { fishTank, hourMs, inOrder, probe, run, startMs } from './a-tank-week.ts'

const cleaned: ReplayRow = { kind: 'event', line: 0, atMs: startMs + 240 * hourMs, event: 'probe-cleaned' }
const crashes = (pH: (hours: number) => number): readonly string[] =>
  run(
    inOrder(
      probe('t1', 'temperature', { hours: 275, everyS: 120, at: () => 25 }),
      probe('p1', 'ph', { hours: 275, everyS: 120, at: pH }),
      [cleaned]
    ),
    fishTank
  )
    .changes.filter(({ alarm, to }) => alarm === 'ph-crash' && to === 'unacknowledged')
    .map(({ priority }) => priority)
const wave = (hours: number): number => 7.4 + 0.05 * Math.sin((hours / 24) * 2 * Math.PI)

test('a pH that breaks down some hours after its probe was cleaned rings', () => {
  expect(crashes((h) => wave(h) - (h > 246 ? Math.min(1.25, (h - 246) / 10) : 0))).toEqual(['critical'])
})
test('a cleaned probe that says 0.2 less from then on is no crash', () => {
  expect(crashes((h) => wave(h) - (h > 240 ? 0.2 : 0))).toEqual([])
})
