import type { Quantity } from '../tank/quantity.ts'
import type { Judged } from './judged.ts'
import type { ProbeDrift } from './probe-drift.ts'

/** A probe is off by more than its limit and by more than twice what that is known to, as references say. */
export function judgeProbeDrifted(
  drifts: readonly Readonly<{ quantity: Quantity; limit: number; drift: ProbeDrift }>[]
): Judged {
  if (drifts.length === 0) return 'cannot-tell'
  const past = drifts.find(({ drift }) => drift.verdict === 'past-limit')
  if (past === undefined) return null
  const { quantity, limit, drift } = past
  const { offsetNow, offsetSd, perMonth, references } = drift
  return {
    because: 'past-limit',
    value: offsetNow,
    limit,
    facts: { quantity, offsetSd, perMonth, references }
  }
}
