import { replay } from '../../services/hub/replay.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import { demoPast } from '../../services/rehearsal/demo-scenario.ts'
import { demoSeed } from '../../services/rehearsal/demo-tank.ts'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import type { BenchFigure } from './record.ts'

const dayMs = 86_400_000

/** Replays the virtual tank's weeks, two probes at one reading a minute, and tells it as a month of thirty days. */
export async function benchReplay(): Promise<readonly BenchFigure[]> {
  const past = demoPast({ nowMs: Date.UTC(2026, 10, 25, 18), seed: demoSeed })
  const rows: ReplayRow[] = [
    ...past.readings.map((reading, line) => ({ kind: 'reading' as const, line, ...reading })),
    ...past.tests.map((test, line) => ({
      kind: 'test' as const,
      line,
      atMs: test.takenAtMs,
      results: test.results
    })),
    ...past.events.map(({ atMs, kind, data }, line) => ({
      kind: 'event' as const,
      line,
      atMs,
      event: kind,
      data
    }))
  ].toSorted((a, b) => a.atMs - b.atMs)
  const startedMs = performance.now()
  let lines = 0
  for (const _line of replay({ tankId: past.tankId, profile: past.profile, rows, gate: flagOnArrival }))
    lines += 1
  const tookS = (performance.now() - startedMs) / 1000
  const days = ((rows.at(-1)?.atMs ?? 0) - (rows[0]?.atMs ?? 0)) / dayMs
  return [
    {
      name: `replay of a month, two probes a minute (${lines} lines)`,
      value: (tookS / days) * 30,
      unit: 's'
    },
    { name: 'replay, readings', value: past.readings.length / tookS, unit: '1/s' }
  ]
}
