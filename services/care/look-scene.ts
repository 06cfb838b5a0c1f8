import type { AlarmKind, Stage } from '../tank/alarm-names.ts'
import type { Band } from '../tank/bands.ts'
import type { TankEvent } from '../tank/event.ts'
import type { TapWater } from '../tank/profile.ts'

/** What a keeper who looks at the fish can say; every question may be left open. */
export type LookAnswers = Readonly<{
  gasping: 'yes' | 'no' | 'unsure'
  since: 'water-change' | 'something-added' | 'new-fish' | 'nothing' | 'unsure'
  who: 'all' | 'one' | 'unsure'
}>

/** Everything the first steps are composed from. */
export type LookScene = Readonly<{
  nowMs: number
  answers: LookAnswers
  stage: Stage
  hasFish: boolean
  /** Since when fish have been in; null where they were always there, or none is. */
  fishSinceMs: number | null
  /** Only while it is fresh. */
  tempC: number | null
  band: Band
  /** Known of late, by probe or by test. */
  pH: number | null
  /** Toxic ammonia as it is known now. */
  nh3: Readonly<{ value: number | null; high: number | null }>
  /** Whether much total ammonia waits in acid water. */
  ammoniaLocked: boolean
  ammoniaTestedMs: number | null
  /** The last nitrite test, mg N/L. */
  nitrite: Readonly<{ mgLAsN: number; atMs: number }> | null
  co2MgL: number | null
  /** In time order, none later than now. */
  events: readonly TankEvent[]
  disinfectant: NonNullable<TapWater['disinfectant']>
  /** Whether there is a heater; null where the keeper has not said. */
  heated: boolean | null
  /** Kinds of alarm that stand now. */
  alarms: readonly AlarmKind[]
}>

/** Words for how long something is ago. */
export function agoWords(nowMs: number, atMs: number): string {
  const hours = (nowMs - atMs) / 3_600_000
  if (hours < 1) return 'within the last hour'
  if (hours < 36) return Math.round(hours) === 1 ? '1 hour ago' : `${Math.round(hours)} hours ago`
  return `${Math.round(hours / 24)} days ago`
}
