import type { AlarmKind, Priority } from './alarm-names.ts'

/** What a message is about: an alarm, the morning's summary, or a trial of the ways. */
export type MessageSort = 'alarm' | 'digest' | 'test'

/** `not-needed`: somebody saw to it first; `given-up`: no way will ever carry it. */
export const messageStates = ['waiting', 'delivered', 'not-needed', 'given-up'] as const
export type MessageState = (typeof messageStates)[number]

/** A message that is owed to one contact. The same id is the same message, however often it is planned or sent. */
export type OwedMessage = Readonly<{
  id: string
  sort: MessageSort
  contactId: string
  tankId: string | null
  /** The alarm it is about, and the moment of the ring it belongs to. */
  activationId: string | null
  /** Absent in messages of an older version, and where it is about no alarm. */
  alarmKind?: AlarmKind | undefined
  madeAtMs: number
  /** Not before this moment, however urgent it grows. */
  earliestMs: number
  dueAtMs: number
  priority: Priority
  /** Why it is owed, and why it waits: `told-at-once`, `nobody-acknowledged`, `quiet-hours`, `may-be-power-cut`, `morning`. */
  because: string
  /** The text of a message that is no alarm. */
  title?: string | undefined
  text?: string | undefined
}>

/** How far the sending has come. */
export type MessageProgress = Readonly<{
  tries: number
  firstTryMs: number | null
  /** The way in use, since when, and how often it was tried. */
  wayId: string | null
  waySinceMs: number | null
  wayTries: number
  /** Ways that refused for good. */
  spent: readonly string[]
}>

export const noProgress: MessageProgress = {
  tries: 0,
  firstTryMs: null,
  wayId: null,
  waySinceMs: null,
  wayTries: 0,
  spent: []
}

/** One thing that happened to a message. */
export type Fate = Readonly<{
  atMs: number
  wayId: string | null
  what: 'delivered' | 'failed' | 'refused' | 'held' | 'not-needed' | 'given-up'
  because: string
}>

export type OutboxMessage = OwedMessage &
  Readonly<{ state: MessageState; progress: MessageProgress; fates: readonly Fate[] }>

/** What a step of the sending changed. */
export type MessageNote = Readonly<{
  id: string
  state: MessageState
  dueAtMs: number
  progress: MessageProgress
  fate?: Fate | undefined
}>

export type MessageAsk = Readonly<{
  state?: MessageState
  dueByMs?: number
  tankId?: string
  activationId?: string
  fromMs?: number
  /** The newest of those that fit. */
  limit?: number
}>

/** A link in a message that acknowledges one alarm, once. Only the hash of its secret is kept. */
export type AckLink = Readonly<{
  tokenHash: string
  messageId: string
  activationId: string
  tankId: string
  contactId: string
  madeAtMs: number
  expiresAtMs: number
  usedAtMs: number | null
  usedFrom: string | null
}>
