import { makeTankFacts } from '../cycle/tank-facts.ts'
import { nh3At } from '../cycle/toxic-ammonia.ts'
import { minuteMs } from '../series/minutes.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Amendment, SeriesAnswer } from '../tank/record.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import { type Knowledge, knowledgeOverTime, versionsOfPast } from './knowledge-over-time.ts'
import { makeSpellBook, waterOf } from './spell-book.ts'

/** What the past is worked out from. */
export type Past = Readonly<{
  profile: TankProfile
  tests: readonly ManualTest[]
  events: readonly TankEvent[]
  /** What entries said before they were amended or taken back, oldest first. */
  amendments?: readonly Pick<Amendment, 'atMs' | 'before'>[]
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
 * a later test or calibration, or an entry written down late, amended or taken back, has changed it.
 */
export function spellsOfPast(
  past: Past,
  span: Span
): Readonly<{ spells: readonly RevisedSpell[]; noLonger: readonly UnsafeSpell[] }> {
  const now = makeTankFacts(past)
  const versions = versionsOfPast(past)
  // Every moment at which more was known is looked at, beside the steps: a wording may have stood for a short while.
  const moments = [...versions.tests, ...versions.events].map(({ fromMs }) => fromMs).sort((a, b) => a - b)
  const known = spellsBy(() => now, past, { ...span, moments })
  const then = spellsBy(
    knowledgeOverTime(past.profile, versions),
    { ...past, ...past.asThen },
    { ...span, moments }
  )
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

function spellsBy(
  factsAt: Knowledge,
  past: Pick<Past, 'temperature' | 'ph'>,
  span: Span & Readonly<{ moments: readonly number[] }>
): readonly UnsafeSpell[] {
  const book = makeSpellBook()
  const tempAt = lookup(past.temperature)
  const pHAt = lookup(past.ph)
  for (const atMs of timesOf(span)) {
    const facts = factsAt(atMs)
    const probes = { atMs, tempC: tempAt(atMs), pH: pHAt(atMs) }
    book.look(facts, waterOf(nh3At(facts, probes), atMs))
  }
  return book.all()
}

/** The steps of a stretch, the moments in it, and its end: what came in since the last whole step is part of it. */
function timesOf({ fromMs, toMs, stepMs, moments }: Parameters<typeof spellsBy>[2]): readonly number[] {
  const steps = Array.from(
    { length: Math.max(0, Math.ceil((toMs - fromMs) / stepMs)) },
    (_, step) => fromMs + step * stepMs
  )
  const within = moments.filter((atMs) => atMs > fromMs && atMs < toMs)
  return [...new Set([...steps, ...within, toMs])].sort((a, b) => a - b)
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
