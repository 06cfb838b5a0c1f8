import { makeTankFacts, type TankFacts } from '../cycle/tank-facts.ts'
import { nh3At } from '../cycle/toxic-ammonia.ts'
import { minuteMs } from '../series/minutes.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { SeriesAnswer } from '../tank/record.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import { makeSpellBook, waterOf } from './spell-book.ts'

/** What the past is worked out from. */
export type Past = Readonly<{
  profile: TankProfile
  tests: readonly ManualTest[]
  events: readonly TankEvent[]
  temperature: SeriesAnswer
  ph: SeriesAnswer
  /** What the probes were taken to say then, where a later calibration has changed it. */
  asThen?: Readonly<{ temperature: SeriesAnswer; ph: SeriesAnswer }>
}>
export type Span = Readonly<{ fromMs: number; toMs: number; stepMs: number }>

/** A spell as it is known now, beside what was seen of it while it went on. */
export type RevisedSpell = UnsafeSpell &
  Readonly<{ revised: boolean; seenThen?: UnsafeSpell | null | undefined }>

/**
 * The unsafe spells of a stretch of the past with all that is known now, each marked where it was not seen so then:
 * a later test or calibration, or an entry written down late or amended, has changed it.
 */
export function spellsOfPast(
  past: Past,
  span: Span
): Readonly<{ spells: readonly RevisedSpell[]; noLonger: readonly UnsafeSpell[] }> {
  const now = makeTankFacts(past)
  const known = spellsBy(() => now, past, span)
  const then = spellsBy(knowledgeOverTime(past), { ...past, ...past.asThen }, span)
  const seen = new Set<UnsafeSpell>()
  const spells = known.map((spell): RevisedSpell => {
    const before = then.find((one) => overlaps(one, spell))
    if (before === undefined) return { ...spell, revised: true, seenThen: null }
    seen.add(before)
    return differs(spell, before, span.stepMs)
      ? { ...spell, revised: true, seenThen: before }
      : { ...spell, revised: false }
  })
  return {
    spells,
    noLonger: then.filter((one) => !seen.has(one) && !known.some((spell) => overlaps(spell, one)))
  }
}

function spellsBy(factsAt: (atMs: number) => TankFacts, past: Past, span: Span): readonly UnsafeSpell[] {
  const book = makeSpellBook()
  const tempAt = lookup(past.temperature)
  const pHAt = lookup(past.ph)
  // The end itself is looked at too: what came in since the last whole step is part of the stretch.
  for (let atMs = span.fromMs; ; atMs = Math.min(atMs + span.stepMs, span.toMs)) {
    const facts = factsAt(atMs)
    const probes = { atMs, tempC: tempAt(atMs), pH: pHAt(atMs) }
    book.look(facts, waterOf(nh3At(facts, probes), atMs))
    if (atMs >= span.toMs) break
  }
  return book.all()
}

/** The newest point at or before a moment, as time goes forward; what is old serves as an old word does. */
export function lookup({
  points,
  stepMs
}: SeriesAnswer): (atMs: number) => { value: number; atMs: number } | null {
  let next = 0
  let last: { value: number; atMs: number } | null = null
  return (atMs) => {
    for (;;) {
      const point = points[next]
      // A point stands for its whole step and is known once that is over.
      if (point === undefined || point.atMs > atMs) return last
      if (point.mean !== null)
        last = { value: point.mean, atMs: Math.min(atMs, point.atMs + Math.max(stepMs, minuteMs)) }
      next += 1
    }
  }
}

/** What was known at each moment: entries count from when they were written down. */
function knowledgeOverTime({ profile, tests, events }: Past): (atMs: number) => TankFacts {
  const knownMs = (one: Readonly<{ enteredAtMs?: number | undefined }>, atMs: number): number =>
    Math.max(atMs, one.enteredAtMs ?? atMs)
  const moments = [
    ...tests.map((test) => knownMs(test, test.takenAtMs)),
    ...events.map((event) => knownMs(event, event.atMs))
  ].sort((a, b) => a - b)
  let facts: TankFacts | null = null
  let upTo = 0
  return (atMs) => {
    let moved = facts === null
    while (upTo < moments.length && (moments[upTo] as number) <= atMs) {
      upTo += 1
      moved = true
    }
    if (moved || facts === null)
      facts = makeTankFacts({
        profile,
        tests: tests.filter((test) => knownMs(test, test.takenAtMs) <= atMs),
        events: events.filter((event) => knownMs(event, event.atMs) <= atMs)
      })
    return facts
  }
}

const overlaps = (one: UnsafeSpell, other: UnsafeSpell): boolean =>
  one.quantity === other.quantity && one.fromMs <= other.toMs && other.fromMs <= one.toMs

/** More than a step or ten minutes, another severity, or a fifth more or less of exposure. */
function differs(one: UnsafeSpell, other: UnsafeSpell, stepMs: number): boolean {
  const slackMs = Math.max(stepMs, 10 * minuteMs)
  const apart = Math.abs(one.exposure - other.exposure)
  return (
    Math.abs(one.fromMs - other.fromMs) > slackMs ||
    Math.abs(one.toMs - other.toMs) > slackMs ||
    one.severity !== other.severity ||
    apart > 0.2 * Math.max(one.exposure, other.exposure)
  )
}
