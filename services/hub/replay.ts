import { minuteMs } from '../series/minutes.ts'
import type { AlarmKind } from '../tank/alarm-names.ts'
import type { AlarmChange } from '../tank/alarm-record.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Flag } from '../tank/reading.ts'
import type { ReadingToStore } from '../tank/record.ts'
import type { ReplayRow } from '../tank/replay-row.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import { makeTankWatch } from './tank-watch.ts'

/** One line of a replay: a change of an alarm, or the summary that ends it. */
export type ReplayLine =
  | Readonly<{
      atMs: number
      alarm: AlarmKind
      subject: string
      from: string
      to: string
      priority: string
      because: string
    }>
  | Readonly<{
      summary: Readonly<{
        readings: number
        refused: number
        alarms: Readonly<Partial<Record<AlarmKind, number>>>
        /** As the watch saw them while they went on. */
        unsafeSpells: readonly UnsafeSpell[]
      }>
    }>

/** The same gate live readings pass: their quality flag, or a refusal. */
export type ReplayGate = (
  row: Extract<ReplayRow, Readonly<{ kind: 'reading' }>>
) => Readonly<{ flag: Flag; flagWhy?: string }> | 'refused'

/**
 * Runs a file through the very same watch as the live service, under a clock that advances at least once a minute
 * up to the last row. Nothing is stored or sent. Rows may come slightly out of order, as boards do: the clock
 * never goes back, and a row older than it completes the past. A row that stands in it twice counts once.
 */
export function* replay(
  given: Readonly<{
    tankId: string
    profile: TankProfile
    rows: Iterable<ReplayRow>
    gate: ReplayGate
    /** Rows that were already refused while the file was read. */
    refused?: number
  }>
): Generator<ReplayLine, void, undefined> {
  const { tankId, profile } = given
  let activations = 0
  const watch = makeTankWatch({
    tankId,
    profile,
    newId: () => {
      activations += 1
      return `a${activations}`
    }
  })
  const counts = makeCounts()
  const tests: ManualTest[] = []
  const events: TankEvent[] = []
  let refused = given.refused ?? 0
  let readings = 0
  let clockMs: number | null = null
  let lastRowMs = Number.NEGATIVE_INFINITY
  const isNew = makeFirstTimes()

  const advance = function* (toMs: number): Generator<ReplayLine> {
    let atMs = clockMs ?? toMs
    for (;;) {
      for (const change of watch.tick(atMs).changes) yield counts.line(change)
      if (atMs >= toMs) break
      atMs = Math.min(toMs, atMs + minuteMs)
    }
    clockMs = toMs
  }

  for (const row of given.rows) {
    // Everything that carries the same moment is known at that moment.
    if (clockMs === null || row.atMs - 1 > clockMs) yield* advance(row.atMs - 1)
    const nowMs = Math.max(clockMs ?? row.atMs, row.atMs)
    if (row.kind === 'reading') {
      const gated = given.gate(row)
      if (gated === 'refused') {
        refused += 1
        continue
      }
      readings += 1
      watch.feed([toReading(tankId, row, nowMs, gated)])
    } else if (row.kind === 'test') {
      const results = row.results.filter((result) => isNew(row.atMs, result))
      if (results.length === 0) continue
      tests.push({ id: `t${row.line}`, takenAtMs: row.atMs, results })
      watch.setEntries({ tests })
    } else {
      if (!isNew(row.atMs, [row.event, row.data, row.note])) continue
      events.push({
        id: `e${row.line}`,
        atMs: row.atMs,
        kind: row.event,
        ...(row.data === undefined ? {} : { data: row.data })
      })
      watch.setEntries({ events })
    }
    lastRowMs = Math.max(lastRowMs, row.atMs)
  }
  if (clockMs !== null) yield* advance(Math.max(clockMs, lastRowMs))
  yield { summary: { readings, refused, alarms: counts.byKind(), unsafeSpells: watch.spells() } }
}

/** What a keeper did or measured counts once, however often a file says it: half the water is not changed twice. */
function makeFirstTimes(): (atMs: number, said: unknown) => boolean {
  const seen = new Set<string>()
  return (atMs, said) => {
    const key = JSON.stringify([atMs, said])
    if (seen.has(key)) return false
    seen.add(key)
    return true
  }
}

function toReading(
  tankId: string,
  row: Extract<ReplayRow, Readonly<{ kind: 'reading' }>>,
  nowMs: number,
  gated: Readonly<{ flag: Flag; flagWhy?: string }>
): ReadingToStore {
  const { probe, quantity, value, atMs } = row
  // Each probe counts as a board of its own.
  return { tankId, probe, quantity, value, atMs, arrivedAtMs: nowMs, clock: 'device', ...gated }
}

function makeCounts(): Readonly<{
  line: (change: AlarmChange) => ReplayLine
  byKind: () => Partial<Record<AlarmKind, number>>
}> {
  const raised = new Map<AlarmKind, Set<string>>()
  return {
    line(change) {
      const { atMs, kind, subject, from, to, priority, because } = change
      if (to === 'unacknowledged') raised.set(kind, (raised.get(kind) ?? new Set()).add(change.activationId))
      return { atMs, alarm: kind, subject, from, to, priority, because }
    },
    byKind: () => Object.fromEntries([...raised].map(([kind, ids]) => [kind, ids.size]))
  }
}
