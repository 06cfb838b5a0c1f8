import type { Kit } from '../tank/profile.ts'

/** What a keeper needs at three in the morning. */
export type AlarmWords = Readonly<{
  what: string
  howSure: string
  timeLeft: string
  confirm: readonly string[]
  doNow: readonly string[]
  doNot: readonly string[]
  caution: string
}>

/** What the words depend on beside the finding. */
export type WordsContext = Readonly<{
  subject: string
  hasFish: boolean
  /** Whether a heater is in the tank; null where the keeper has not said. */
  heated: boolean | null
  kit: Kit
  nowMs: number
}>
