import { type Hearing, isGone, isSilent, overdueFromMs, silentAfterMs } from './hearing.ts'
import type { Judged } from './judged.ts'

/** The fact that says until when this silence may turn out to be a power cut, which is told instead. */
export const mayBeCutUntil = 'mayBeCutUntilMs'

/**
 * A probe has not been heard for three of its intervals (at least a minute and a half), on any of its quantities.
 * Judged on arrival, not on the time a reading carries. Where all others speak so seldom that none of them need
 * have been heard since, the finding says until when it is not known whether they are silent too.
 */
export function judgeProbeSilent(
  given: Readonly<{
    /** Of this probe, one a quantity. */
    own: readonly Hearing[]
    /** Of all other probes of the tank. */
    others: readonly Hearing[]
    nowMs: number
  }>
): Judged {
  const { own, others, nowMs } = given
  if (own.length === 0) return 'cannot-tell'
  const silent = own.filter((hearing) => isSilent(hearing, nowMs))
  const first = silent.reduce<Hearing | null>(
    (longest, one) => (longest === null || one.lastHeardMs < longest.lastHeardMs ? one : longest),
    null
  )
  if (first === null) return null
  const unsureUntilMs = cutKnownAtMs(first, others, nowMs)
  const elsewhere = silent.filter(({ quantity }) =>
    others.some((other) => other.quantity === quantity && !isSilent(other, nowMs))
  )
  const silentMinutes = (nowMs - first.lastHeardMs) / 60_000
  return {
    because: 'gap-beyond-three-intervals',
    value: silentMinutes,
    unit: 'min',
    limit: silentAfterMs(first.everyMs) / 60_000,
    sinceMs: first.lastHeardMs,
    facts: {
      quantities: silent.map((one) => one.quantity).join(', '),
      ...(elsewhere.length === 0
        ? {}
        : { heardElsewhere: elsewhere.map(({ quantity }) => quantity).join(', ') }),
      everySeconds: Math.round(first.everyMs / 1000),
      ...(unsureUntilMs === null ? {} : { [mayBeCutUntil]: unsureUntilMs })
    }
  }
}

/** From when on the others are overdue as well, or have told that this silence is the only one; null where that is known. */
function cutKnownAtMs(silent: Hearing, others: readonly Hearing[], nowMs: number): number | null {
  const dueMs = silent.lastHeardMs + silent.everyMs
  if (others.some((one) => one.lastHeardMs >= dueMs)) return null
  const waiting = others.filter((one) => !isGone(one, nowMs))
  return waiting.length === 0 ? null : Math.max(...waiting.map(overdueFromMs))
}
