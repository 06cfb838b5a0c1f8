import type { AlarmKind, AlarmState, Priority } from './alarm-names.ts'

/** The standing of one alarm of one subject, with its timers: what a restart must find again. */
export type AlarmSlot = Readonly<{
  tankId: string
  kind: AlarmKind
  /** The tank's id, or the probe's name where the alarm is about a probe. */
  subject: string
  state: AlarmState
  /** Of the present or last activation; null before the first. */
  activationId: string | null
  priority: Priority
  /** Since when the condition has been true without a break; null while false. */
  activeSinceMs: number | null
  /** Since when the condition has been false again (beyond the deadband); null while true. */
  clearSinceMs: number | null
  raisedAtMs: number | null
  acknowledgedAtMs: number | null
  announcedAtMs: number | null
  shelvedUntilMs: number | null
  /** The numbers and words of the last finding, for the page and the message. */
  finding: Finding | null
}>

/** What a judgement found. Words are built from it at the doors, so it holds facts only. */
export type Finding = Readonly<{
  /** The named reason, e.g. `below-band`, `gap-beyond-three-intervals`. */
  because: string
  value?: number | undefined
  unit?: string | undefined
  limit?: number | undefined
  trendPerHour?: number | undefined
  /** Hours until the next harmful limit at this trend; absent where there is none. */
  hoursLeft?: number | undefined
  /** 0 to 1; absent where the finding is a plain fact. */
  certaintyFrac?: number | undefined
  sinceMs?: number | undefined
  /** Further named numbers and texts of this kind of finding. */
  facts?: Readonly<Record<string, string | number | boolean>> | undefined
}>

/** One transition of an alarm's life, also one that decided to stay silent. */
export type AlarmChange = Readonly<{
  atMs: number
  activationId: string
  tankId: string
  kind: AlarmKind
  subject: string
  from: AlarmState
  to: AlarmState
  priority: Priority
  because: string
  /** Who did it, where a person did. */
  by?: string | undefined
}>
