import { type ReplayLine, replay } from '../../services/hub/replay.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import type { ReplayRow } from '../../services/tank/replay-row.ts'

export const minuteMs = 60_000
export const hourMs = 60 * minuteMs
export const startMs = 1_790_000_040_000

/** No real sensor says the same for half a day: one that does is stuck. */
const wander: Readonly<Partial<Record<Quantity, number>>> = { temperature: 0.02, ph: 0.004 }

/** Readings of one probe, by a function of the hours since the start; null where it is silent. */
export function probe(
  name: string,
  quantity: Quantity,
  given: Readonly<{ hours: number; everyS?: number; at: (hours: number) => number | null }>
): readonly ReplayRow[] {
  const stepMs = (given.everyS ?? 60) * 1000
  const rows: ReplayRow[] = []
  for (let offsetMs = 0; offsetMs <= given.hours * hourMs; offsetMs += stepMs) {
    const ideal = given.at(offsetMs / hourMs)
    const value =
      ideal === null ? null : ideal + (wander[quantity] ?? 0) * Math.sin(offsetMs / (7 * minuteMs))
    // Some seconds past the minute, as real boards are.
    if (value !== null)
      rows.push({ kind: 'reading', line: 0, atMs: startMs + offsetMs + 7000, probe: name, quantity, value })
  }
  return rows
}

/** Rows of several sources in time order, each with its line. */
export function inOrder(...lists: readonly (readonly ReplayRow[])[]): readonly ReplayRow[] {
  return lists
    .flat()
    .toSorted((a, b) => a.atMs - b.atMs)
    .map((row, at) => ({ ...row, line: at + 2 }))
}

export const fish = { id: 'puntius-titteya', count: 8 }
export const emptyTank: TankProfile = {
  name: 'Kitchen',
  volumeL: 96,
  setpointC: 24.5,
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  timeZone: 'Europe/Vienna'
}
export const fishTank: TankProfile = { ...emptyTank, species: [fish] }

type Change = Exclude<ReplayLine, Readonly<{ summary: unknown }>>
export type Run = Readonly<{
  changes: readonly Change[]
  summary: Extract<ReplayLine, Readonly<{ summary: unknown }>>['summary']
  /** Each change as `hours kind from>to priority`, rounded to a tenth of an hour. */
  lines: readonly string[]
}>

export function run(rows: Iterable<ReplayRow>, profile: TankProfile): Run {
  const all = [...replay({ tankId: 'kitchen', profile, rows, gate: flagOnArrival })]
  const last = all.at(-1)
  if (last === undefined || !('summary' in last)) throw new Error('a replay ends with its summary')
  const changes = all.filter((line): line is Change => 'alarm' in line)
  const lines = changes.map(
    ({ atMs, alarm, from, to, priority }) =>
      `${((atMs - startMs) / hourMs).toFixed(1)} ${alarm} ${from}>${to} ${priority}`
  )
  return { changes, summary: last.summary, lines }
}
