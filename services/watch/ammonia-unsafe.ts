import { nh3Tiers } from '../tank/bands.ts'
import type { Judged } from './judged.ts'

/** Toxic ammonia as it is known now, mg NH3/L; value null where it cannot be known. */
export type ToxicAmmonia = Readonly<{
  value: number | null
  low: number | null
  high: number | null
  facts: Readonly<Record<string, string | number>>
}>

/**
 * Toxic ammonia stands above the tier at which a keeper must act (0.05 mg NH3/L), or above the one at which fish
 * die (0.2). Where it cannot be known, nothing is said: an old test neither raises nor clears.
 */
export function judgeAmmoniaUnsafe(
  given: Readonly<{ nh3: ToxicAmmonia; deadbandMgL: number; stood: boolean }>
): Judged {
  const { nh3, deadbandMgL, stood } = given
  if (nh3.value === null) return 'cannot-tell'
  const limit = nh3Tiers.actMgL
  if (nh3.value <= limit - (stood ? deadbandMgL : 0)) return null
  const emergency = nh3.value > nh3Tiers.emergencyMgL
  return {
    because: emergency ? 'beyond-emergency-tier' : 'beyond-act-tier',
    value: nh3.value,
    unit: 'mg NH3/L',
    limit: emergency ? nh3Tiers.emergencyMgL : limit,
    facts: {
      ...nh3.facts,
      ...(nh3.low === null ? {} : { lowMgL: nh3.low }),
      ...(nh3.high === null ? {} : { highMgL: nh3.high })
    }
  }
}

/** Whether toxic ammonia may, at its upper bound, be above what fish bear for long (0.02): shown, never rung. */
export const isWorthWatching = (nh3: Readonly<{ high: number | null }>): boolean =>
  nh3.high !== null && nh3.high > nh3Tiers.watchMgL
