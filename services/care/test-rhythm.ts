import type { Stage } from '../tank/alarm-names.ts'

const dayMs = 86_400_000

/**
 * How often ammonia and nitrite are to be tested, by stage. Daily with new fish is the usual advice of the trade;
 * the rest is our own choice. Common practice, no source.
 */
export const testEveryMs: Readonly<Record<Stage, number | null>> = {
  dry: null,
  filled: null,
  'fishless-cycling': 2 * dayMs,
  'stocked-new': dayMs,
  stocked: 7 * dayMs
}
