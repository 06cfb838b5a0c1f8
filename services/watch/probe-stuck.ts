import type { Quantity } from '../tank/quantity.ts'
import type { Judged } from './judged.ts'

const hourMs = 3_600_000
/** Common practice, no source: healthy tanks were seen to show one step of a sensor for up to ten hours. */
const standsStillMs = 12 * hourMs
const standsStillWhileHeatingMs = 2 * hourMs
/** After so long a silence nothing is known of it any more. */
const unheardMs = 1.5 * hourMs

/** How long a probe has said one and the same on one quantity. */
export type StandingStill = Readonly<{
  quantity: Quantity
  sinceMs: number
  lastMs: number
  value: number
  /** Since when the heating cycle says that the water must have moved; null while it need not. */
  movementDueSinceMs: number | null
}>

/** A probe says the same value for so long that it cannot be the water any more. */
export function judgeProbeStuck(given: Readonly<{ still: readonly StandingStill[]; nowMs: number }>): Judged {
  const { still, nowMs } = given
  const heard = still.filter(({ lastMs }) => nowMs - lastMs <= unheardMs)
  if (heard.length === 0) return 'cannot-tell'
  for (const { quantity, sinceMs, lastMs, value, movementDueSinceMs } of heard) {
    const facts = { quantity, value }
    if (lastMs - sinceMs >= standsStillMs)
      return {
        because: 'no-change-for-half-a-day',
        value: (lastMs - sinceMs) / hourMs,
        unit: 'h',
        sinceMs,
        facts
      }
    if (movementDueSinceMs === null) continue
    const fromMs = Math.max(sinceMs, movementDueSinceMs)
    if (lastMs - fromMs >= standsStillWhileHeatingMs)
      return {
        because: 'no-change-while-heating',
        value: (lastMs - fromMs) / hourMs,
        unit: 'h',
        sinceMs: fromMs,
        facts
      }
  }
  return null
}
