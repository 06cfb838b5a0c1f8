import { type Hearing, isOverdue, isSilent, silentAfterMs } from './hearing.ts'
import type { Judged } from './judged.ts'

/** So long one silence waits for the others: several at once are a power cut, which is one alarm and not five. */
const waitForOthersMs = 60_000

/**
 * A probe has not been heard for three of its intervals (at least a minute and a half), on any of its quantities.
 * Judged on arrival, not on the time a reading carries.
 */
export function judgeProbeSilent(
  given: Readonly<{
    /** Of this probe, one a quantity. */
    own: readonly Hearing[]
    /** Of all other probes of the tank. */
    others: readonly Hearing[]
    nowMs: number
    stood: boolean
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
  if (!given.stood && mayBePowerCut(first, others, nowMs)) return null
  const silentMinutes = (nowMs - first.lastHeardMs) / 60_000
  return {
    because: 'gap-beyond-three-intervals',
    value: silentMinutes,
    unit: 'min',
    limit: silentAfterMs(first.everyMs) / 60_000,
    sinceMs: first.lastHeardMs,
    facts: {
      quantities: silent.map((one) => one.quantity).join(', '),
      everySeconds: Math.round(first.everyMs / 1000)
    }
  }
}

/** Nobody else has spoken since this one should have, and some are not overdue yet: wait a moment for them. */
function mayBePowerCut(silent: Hearing, others: readonly Hearing[], nowMs: number): boolean {
  if (others.length === 0) return false
  if (nowMs - silent.lastHeardMs > silentAfterMs(silent.everyMs) + waitForOthersMs) return false
  const dueMs = silent.lastHeardMs + silent.everyMs
  return others.every((one) => one.lastHeardMs < dueMs) && others.some((one) => !isOverdue(one, nowMs))
}
