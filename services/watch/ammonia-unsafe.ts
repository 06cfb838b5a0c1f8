import { nh3Tiers } from '../tank/bands.ts'
import type { Judged } from './judged.ts'

const hourMs = 3_600_000
/** Above the watch tier for so long fish come to harm too. */
const longMs = 24 * hourMs
/** From here on a rise is an emergency before the tier is reached. */
const risingFromMgL = 0.1
/** Slower than this is the doubt of the probes, no rise, mg NH3/L an hour. */
const risesBy = 0.005

/** Toxic ammonia as it is known now, mg NH3/L; value null where it cannot be known. */
export type ToxicAmmonia = Readonly<{
  value: number | null
  low: number | null
  high: number | null
  /** What it was made from. */
  from: Readonly<Record<string, string | number | null>>
  /** When the test was taken it rests on. */
  asOfMs: number | null
}>

/**
 * Toxic ammonia stands above the tier at which a keeper must act (0.05 mg NH3/L), or has stood above 0.02 for a day;
 * or above the one at which fish die (0.2), or above 0.1 and rising. Where it cannot be known, nothing is said: an
 * old test neither raises nor clears.
 */
export function judgeAmmoniaUnsafe(
  given: Readonly<{
    nh3: ToxicAmmonia
    deadbandMgL: number
    stood: boolean
    /** Since when it has been above the watch tier without a break; null where it is not. */
    aboveWatchSinceMs?: number | null
    /** Change over the last hour, mg NH3/L an hour. */
    trendPerHour?: number | null
    nowMs?: number
    /** Further facts for the words. */
    more?: Readonly<Record<string, number>>
  }>
): Judged {
  const { nh3, deadbandMgL, stood, trendPerHour = null } = given
  if (nh3.value === null) return 'cannot-tell'
  const { actMgL, emergencyMgL, watchMgL } = nh3Tiers
  const back = stood ? deadbandMgL : 0
  const found = (because: string, limit: number): Judged => ({
    because,
    value: nh3.value ?? 0,
    unit: 'mg NH3/L',
    limit,
    ...(trendPerHour === null ? {} : { trendPerHour }),
    facts: {
      ...known(nh3.from),
      ...(nh3.asOfMs === null ? {} : { testedAtMs: nh3.asOfMs }),
      ...given.more,
      ...(nh3.low === null ? {} : { lowMgL: nh3.low }),
      ...(nh3.high === null ? {} : { highMgL: nh3.high })
    }
  })
  if (nh3.value > emergencyMgL) return found('beyond-emergency-tier', emergencyMgL)
  if (nh3.value > risingFromMgL && trendPerHour !== null && trendPerHour > risesBy)
    return found('high-and-rising', risingFromMgL)
  if (nh3.value > actMgL) return found('beyond-act-tier', actMgL)
  const sinceMs = given.aboveWatchSinceMs ?? null
  if (sinceMs !== null && nh3.value > watchMgL && (given.nowMs ?? sinceMs) - sinceMs >= longMs)
    return found('above-watch-tier-for-a-day', watchMgL)
  return nh3.value > actMgL - back ? found('beyond-act-tier', actMgL) : null
}

const known = (from: ToxicAmmonia['from']): Record<string, string | number> =>
  Object.fromEntries(
    Object.entries(from).filter((entry): entry is [string, string | number] => entry[1] !== null)
  )

/** Whether toxic ammonia is, as far as is known, where it harms fish (above 0.05): said at once, rung after its delay. */
export const isHarmful = (nh3: Readonly<{ value: number | null }>): boolean =>
  nh3.value !== null && nh3.value > nh3Tiers.actMgL

/** Below this pH hardly any ammonia is toxic, and all of it waits. Common practice, no source. */
const lockedBelowPH = 6.8
const lockedFromMgLAsN = 1

/** Whether much total ammonia waits in acid water: harmless now, deadly once the pH rises. */
export function isLocked({ from }: Readonly<{ from: ToxicAmmonia['from'] }>): boolean {
  const { tanMgLAsN, pH } = from
  return (
    typeof tanMgLAsN === 'number' &&
    typeof pH === 'number' &&
    tanMgLAsN >= lockedFromMgLAsN &&
    pH < lockedBelowPH
  )
}

/** Whether toxic ammonia may, at its upper bound, be above what fish bear for long (0.02): shown, never rung. */
export const isWorthWatching = (nh3: Readonly<{ high: number | null }>): boolean =>
  nh3.high !== null && nh3.high > nh3Tiers.watchMgL
