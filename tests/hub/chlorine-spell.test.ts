import { expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { fishTank, hourMs, inOrder, probe, run, startMs } from './a-tank-week.ts'

const atHour = (hours: number): number => startMs + hours * hourMs
const chlorinated = {
  ...fishTank,
  tap: { tempC: 12, pH: 7.4, khDKh: 6, ghDGh: 8, nitrateMgL: 5, ammoniaMgLAsN: 0, disinfectant: 'chlorine' }
} as const
const untreated: ReplayRow = {
  kind: 'event',
  line: 0,
  atMs: atHour(2),
  event: 'water-changed',
  data: { fraction: 0.3, conditioner: false }
}
const shown = (value: number): ReplayRow => ({
  kind: 'test',
  line: 0,
  atMs: atHour(2),
  results: [{ quantity: 'chlorine', value, unit: 'mg/L' }]
})
const water = probe('t1', 'temperature', { hours: 4, at: () => 25 })

test.each([
  ['a change with chlorinated water and no conditioner', untreated],
  ['a test at the first step that shows any', shown(0.02)],
  ['a test that shows much', shown(0.5)]
])('%s: what rings critical is an emergency in the history, too', (_name, row) => {
  const { changes, summary } = run(inOrder(water, [row]), chlorinated)
  expect(changes).toMatchObject([{ alarm: 'chlorine-present', priority: 'critical' }])
  expect(summary.unsafeSpells).toMatchObject([{ quantity: 'chlorine', severity: 'emergency' }])
})
test('below the first step there is neither', () => {
  const { changes, summary } = run(inOrder(water, [shown(0.015)]), chlorinated)
  expect(changes).toEqual([])
  expect(summary.unsafeSpells).toEqual([])
})
