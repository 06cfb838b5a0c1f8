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

test.each([
  ['a steady room', (h: number) => 21 + 0.3 * Math.sin(h), 30, 1.3],
  ['a steady room, slow water', (h: number) => 21 + 0.3 * Math.sin(h), 30, 1],
  ['six hours on the desk', (h: number) => 19 + 0.3 * Math.sin(h), 6, 1],
  ['a room of day and night', (h: number) => 20 + 2 * Math.sin((h / 12) * Math.PI), 30, 1.3]
])(
  'what the probe felt in the air is no heater’s: cold water that warms as it should after the filling, %s',
  (_name, roomC, filledAtH, perH) => {
    // 100 W warm 96 L by 0.9 K an hour (4.19 kJ per kg and K), and a room that is warmer than the water adds to it.
    const at = (h: number): number =>
      h < filledAtH ? roomC(h) : Math.min(15 + perH * (h - filledAtH), 25 + 0.2 * Math.sin(3 * h))
    const fill: ReplayRow = { ...filled, atMs: startMs + filledAtH * hourMs }
    const { changes } = run(
      inOrder(probe('t1', 'temperature', { hours: filledAtH + 30, at }), [fill]),
      dryTank
    )
    const alarms = new Set(changes.map(({ alarm }) => alarm))
    expect([...alarms].sort()).toEqual(['water-cold', 'water-cold-danger'])
  }
)
