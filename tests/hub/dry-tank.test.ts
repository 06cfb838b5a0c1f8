import { expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { emptyTank, hourMs, inOrder, probe, run, startMs } from './a-tank-week.ts'

const dryTank = { ...emptyTank, heaterW: 100, start: { answer: 'dry', atMs: startMs } } as const
/** A board that is tried out beside an empty tank: its probes in a cool room, the electrode in its storage cap. */
const triedOut = [
  probe('t1', 'temperature', { hours: 8, at: (h) => (h < 2 ? 19 : 16) }),
  probe('p1', 'ph', { hours: 8, at: () => 4 })
] as const
const filled: ReplayRow = { kind: 'event', line: 0, atMs: startMs + 5 * hourMs, event: 'filled' }

test('a dry tank has no water that could be cold, sour or unheated', () => {
  expect(run(inOrder(...triedOut), dryTank).lines).toEqual([])
})

test('once it is filled its water is judged', () => {
  const { changes } = run(inOrder(...triedOut, [filled]), dryTank)
  expect(changes[0]?.atMs).toBeGreaterThanOrEqual(filled.atMs)
  expect(changes.map(({ alarm }) => alarm)).toEqual(expect.arrayContaining(['water-cold-danger', 'ph-crash']))
})
