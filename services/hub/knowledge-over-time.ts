import { makeTankFacts, type TankFacts } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Amendment } from '../tank/record.ts'

/** What was known at a moment. */
export type Knowledge = (atMs: number) => TankFacts

/** One wording of an entry, and from when until when it was what was known. */
type Version<Entry> = Readonly<{ entry: Entry; fromMs: number; toMs: number }>
export type Versions = Readonly<{
  tests: readonly Version<ManualTest>[]
  events: readonly Version<TankEvent>[]
}>

/** Every wording of entries, those that were amended or taken back included. */
function versionsOf<Entry extends ManualTest | TankEvent>(
  entries: readonly Entry[],
  before: readonly Readonly<{ atMs: number; before: Entry }>[]
): readonly Version<Entry>[] {
  const amendedMs = new Map<string, number>()
  const versions: Version<Entry>[] = []
  const add = (entry: Entry, toMs: number): void => {
    const ownMs = 'takenAtMs' in entry ? entry.takenAtMs : entry.atMs
    const fromMs = Math.max(ownMs, entry.enteredAtMs ?? ownMs, amendedMs.get(entry.id) ?? ownMs)
    // What stood for less than a minute was judged by nobody: a slip of the finger, mended at once.
    if (toMs - fromMs >= minuteMs) versions.push({ entry, fromMs, toMs })
  }
  for (const { atMs, before: entry } of before) {
    add(entry, atMs)
    amendedMs.set(entry.id, atMs)
  }
  for (const entry of entries) add(entry, Number.POSITIVE_INFINITY)
  return versions
}

export function versionsOfPast(
  past: Readonly<{
    tests: readonly ManualTest[]
    events: readonly TankEvent[]
    /** What entries said before they were amended or taken back, oldest first. */
    amendments?: readonly Pick<Amendment, 'atMs' | 'before'>[]
  }>
): Versions {
  const { tests, events, amendments = [] } = past
  const ofTests = amendments.flatMap(({ atMs, before }) => ('results' in before ? [{ atMs, before }] : []))
  const ofEvents = amendments.flatMap(({ atMs, before }) => ('results' in before ? [] : [{ atMs, before }]))
  return { tests: versionsOf(tests, ofTests), events: versionsOf(events, ofEvents) }
}

/** What was known at each moment: a wording counts from when it was written down until it was amended. */
export function knowledgeOverTime(profile: TankProfile, versions: Versions): Knowledge {
  const moments = [...versions.tests, ...versions.events]
    .flatMap(({ fromMs, toMs }) => [fromMs, toMs])
    .sort((a, b) => a - b)
  let latest: Readonly<{ passed: number; facts: TankFacts }> | null = null
  let passed = 0
  return (atMs) => {
    // Moments are asked one after the other, forward or back: the place moves by little.
    while (passed < moments.length && (moments[passed] as number) <= atMs) passed += 1
    while (passed > 0 && (moments[passed - 1] as number) > atMs) passed -= 1
    if (latest?.passed === passed) return latest.facts
    const facts = makeTankFacts({
      profile,
      tests: knownAt(versions.tests, atMs),
      events: knownAt(versions.events, atMs)
    })
    latest = { passed, facts }
    return facts
  }
}

const knownAt = <Entry>(versions: readonly Version<Entry>[], atMs: number): readonly Entry[] =>
  versions.filter(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs).map(({ entry }) => entry)
