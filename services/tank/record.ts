import type { AlarmChange, AlarmSlot } from './alarm-record.ts'
import type { Assignment } from './assignment.ts'
import type { EventData, EventKind, TankEvent } from './event.ts'
import type { ManualTest, TestResult } from './manual-test.ts'
import type { AckLink, MessageAsk, MessageNote, OutboxMessage, OwedMessage } from './message.ts'
import type { ParkedMessage } from './parked-message.ts'
import type { ProbeRecord } from './probe-notes.ts'
import type { TankProfile } from './profile.ts'
import type { DerivedQuantity, Quantity, TestQuantity } from './quantity.ts'
import type { Flag, Reading } from './reading.ts'

/**
 * The record: everything that must outlive the process. The promise of every writing function is kept
 * (resolved) only after the transaction that holds it is on disk.
 */
export type TankRecord = Readonly<{
  /** Stores readings; the answer stands in the order of the readings. A new probe of a known tank makes itself. */
  appendReadings(batch: readonly ReadingToStore[]): Promise<readonly AppendAnswer[]>
  /** Readings in time order, raw. `limit` keeps the newest where more fit. */
  readings(ask: ReadingAsk): Promise<readonly StoredReading[]>
  series(ask: SeriesAsk): Promise<SeriesAnswer>
  probes(tankId: string): Promise<readonly Probe[]>
  /** Replaces the derived series of a stretch and raises its revision. */
  replaceDerived(ask: ReplaceDerived): Promise<Readonly<{ revision: number }>>

  tanks(ask?: Readonly<{ archived?: boolean }>): Promise<readonly StoredTank[]>
  /** Answers `taken` where the id exists, archived ones included. */
  addTank(ask: Readonly<{ id: string; profile: TankProfile; atMs: number }>): Promise<'added' | 'taken'>
  changeTank(ask: Readonly<{ id: string; profile: TankProfile; atMs: number; by: string }>): Promise<void>
  archiveTank(ask: Readonly<{ id: string; atMs: number }>): Promise<void>
  eraseTank(id: string): Promise<void>

  /** A repeated `clientKey` answers the first id. */
  addTest(ask: NewTest): Promise<Readonly<{ id: string; repeated: boolean }>>
  changeTest(ask: ChangeEntry<Partial<Omit<NewTest, 'tankId' | 'clientKey'>>>): Promise<boolean>
  tests(ask: EntryAsk): Promise<readonly ManualTest[]>
  addEvent(ask: NewEvent): Promise<Readonly<{ id: string; repeated: boolean }>>
  changeEvent(ask: ChangeEntry<Partial<Omit<NewEvent, 'tankId' | 'clientKey'>>>): Promise<boolean>
  events(ask: EntryAsk): Promise<readonly TankEvent[]>
  /** What an entry said before it was amended, oldest first; of all entries of the tank where none is named. */
  amendments(ask: Readonly<{ tankId: string; id?: string }>): Promise<readonly Amendment[]>
  /** All of it in one transaction: a file is taken whole or not at all. */
  importAll(ask: ImportAll): Promise<ImportAnswer>

  /** An alarm change and the messages that it owes are one transaction. */
  saveAlarms(
    ask: Readonly<{
      slots: readonly AlarmSlot[]
      changes: readonly AlarmChange[]
      messages?: readonly OwedMessage[]
    }>
  ): Promise<void>
  alarmSlots(tankId?: string): Promise<readonly AlarmSlot[]>
  alarmChanges(
    ask: Readonly<{ tankId?: string; fromMs?: number; toMs?: number; activationId?: string; limit?: number }>
  ): Promise<readonly AlarmChange[]>

  /** Answers how many are new: a message whose id is known already stays as it is. */
  addMessages(messages: readonly OwedMessage[]): Promise<number>
  messages(ask: MessageAsk): Promise<readonly OutboxMessage[]>
  noteMessages(notes: readonly MessageNote[]): Promise<void>
  /** Drops finished messages and links made before a moment, and the oldest where more than `keep` are there. */
  pruneMessages(ask: Readonly<{ beforeMs: number; keep: number }>): Promise<number>
  addAckLink(link: Omit<AckLink, 'usedAtMs' | 'usedFrom'>): Promise<void>
  ackLink(tokenHash: string): Promise<AckLink | null>
  /** Uses a link up; false where it was used before, is too old or unknown. */
  useAckLink(ask: Readonly<{ tokenHash: string; atMs: number; from: string }>): Promise<boolean>

  /** Readings of a tank that does not exist yet wait here, bounded. */
  holdReadings(batch: readonly ReadingToStore[]): Promise<void>
  heldTanks(): Promise<readonly HeldTank[]>
  /** Moves what was held for a tank into its record. */
  admitHeld(tankId: string): Promise<readonly AppendAnswer[]>
  refuse(batch: readonly Refusal[]): Promise<void>
  refusals(ask?: Readonly<{ limit?: number }>): Promise<readonly StoredRefusal[]>

  settings(): Promise<Readonly<Record<string, unknown>>>
  putSettings(values: Readonly<Record<string, unknown>>): Promise<void>

  addSession(session: Session): Promise<void>
  session(tokenHash: string): Promise<Session | null>
  sessions(): Promise<readonly Session[]>
  endSession(ask: Readonly<{ id: string; atMs: number }>): Promise<boolean>
  touchSession(ask: Readonly<{ id: string; atMs: number }>): Promise<void>
  addInvite(invite: Invite): Promise<void>
  /** Uses up a one-time invitation; null where it is unknown, used or too old. */
  takeInvite(ask: Readonly<{ codeHash: string; atMs: number }>): Promise<Invite | null>
  addBoard(board: Board): Promise<'added' | 'taken'>
  boards(): Promise<readonly Board[]>
  endBoard(ask: Readonly<{ id: string; atMs: number }>): Promise<boolean>

  /** Answers `taken` where the topic feeds that tank already, or the probe has that quantity from another topic. */
  addAssignment(assignment: Assignment): Promise<'added' | 'taken'>
  assignments(): Promise<readonly Assignment[]>
  removeAssignment(id: string): Promise<boolean>

  /** Keeps a message as it came; false where there is no room for more. */
  parkMessage(message: Omit<ParkedMessage, 'key'>): Promise<boolean>
  /** Oldest first. */
  parkedMessages(ask: Readonly<{ limit: number }>): Promise<readonly ParkedMessage[]>
  dropParked(ask: Readonly<{ throughKey: number }>): Promise<void>

  /** Rows of the export file in time order, in slices. */
  exportSlice(
    ask: Readonly<{ tankId: string; fromMs: number; toMs: number; afterMs?: number; limit: number }>
  ): Promise<readonly StoredReading[]>
  health(): Promise<
    Readonly<{
      canWrite: boolean
      lastCommitMs: number | null
      why?: string
      walBytes: number
      readings: number
    }>
  >
  close(): Promise<void>
}> &
  ProbeRecord

export type ReadingToStore = Reading & Readonly<{ clientId?: string | undefined }>
export type AppendAnswer = Readonly<{
  /**
   * `same`: already stored; `conflict`: another value holds that time, ours is kept aside; `no-tank`: not stored;
   * `unusable`: the row itself cannot be kept (no finite number, no whole time), its neighbours are.
   */
  outcome: 'stored' | 'same' | 'conflict' | 'no-tank' | 'unusable'
  /** The time it is stored under: an arrival time takes the next free millisecond. */
  atMs: number
  probeId: string
  newProbe: boolean
  /** Its name in the record: a board goes on under the name it had before. */
  probeName?: string | undefined
  /** It was out of the tank until this reading. */
  putBack?: true | undefined
  /** By the calibration in force; absent where none changes it. */
  corrected?: number | undefined
}>
/** Here and in every ask below, `fromMs` and `toMs` both belong to the stretch. */
export type ReadingAsk = Readonly<{
  tankId: string
  quantity?: Quantity
  probe?: string
  fromMs: number
  toMs: number
  limit?: number
}>
export type StoredReading = Reading & Readonly<{ probeId: string }>

export type SeriesAsk = Readonly<{
  tankId: string
  quantity: Quantity | DerivedQuantity | TestQuantity
  fromMs: number
  toMs: number
  /** At most about this many points; the coarsest level that fits is taken. */
  points: number
  /** Probe id or name; the leading probe of the quantity unless given. */
  probe?: string
}>
export type SeriesPoint = Readonly<{
  atMs: number
  mean: number | null
  min: number | null
  max: number | null
  count: number
  countBad: number
  flag: Flag
}>
/** `atMs` of a point is the start of its step. `stepMs` of raw readings and tests is their usual distance. */
export type SeriesAnswer = Readonly<{ revision: number; stepMs: number; points: readonly SeriesPoint[] }>
export type DerivedPoint = Readonly<{ atMs: number; value: number; low: number; high: number }>
/** What stood between `fromMs` and `toMs` goes; `revise` raises the revision, plain going on does not. */
export type ReplaceDerived = Readonly<{
  tankId: string
  quantity: DerivedQuantity
  fromMs: number
  toMs: number
  points: readonly DerivedPoint[]
  revise: boolean
}>

export type Probe = Readonly<{
  id: string
  tankId: string
  name: string
  quantities: readonly ProbeChannel[]
  firstAtMs: number
  /** Since when it is out of the tank; absent while it is in. */
  outSinceMs?: number | undefined
}>
export type ProbeChannel = Readonly<{
  quantity: Quantity
  leading: boolean
  lastAtMs: number | null
  lastValue: number | null
  lastFlag: Flag | null
  conflicts: number
  /** Computed from another quantity of the same probe. */
  computed?: boolean | undefined
}>

export type StoredTank = Readonly<{
  id: string
  profile: TankProfile
  createdAtMs: number
  archivedAtMs: number | null
}>
export type EntryAsk = Readonly<{ tankId: string; fromMs?: number; toMs?: number; limit?: number }>
export type NewTest = Readonly<{
  tankId: string
  takenAtMs: number
  results: readonly TestResult[]
  note?: string | undefined
  clientKey?: string | undefined
  by: string
  atMs: number
}>
export type NewEvent = Readonly<{
  tankId: string
  atMs: number
  kind: EventKind
  data?: EventData | undefined
  note?: string | undefined
  clientKey?: string | undefined
  by: string
  enteredAtMs: number
}>
/** `body` null withdraws the entry; what it said is kept. */
export type ChangeEntry<Body> = Readonly<{
  tankId: string
  id: string
  body: Body | null
  by: string
  atMs: number
}>
export type Amendment = Readonly<{
  atMs: number
  by: string
  before: ManualTest | TankEvent
  withdrawn: boolean
}>
export type ImportAll = Readonly<{
  tankId: string
  readings: readonly ReadingToStore[]
  tests: readonly NewTest[]
  events: readonly NewEvent[]
}>
export type ImportAnswer = Readonly<{
  readingsNew: number
  readingsSame: number
  conflicts: number
  testsNew: number
  testsSame: number
  eventsNew: number
  eventsSame: number
}>

export type HeldTank = Readonly<{
  tankId: string
  count: number
  firstAtMs: number
  lastAtMs: number
  probes: readonly string[]
  /** How many of its readings no longer fitted; the oldest went first. */
  dropped?: number
}>
export type Refusal = Readonly<{
  topic: string
  payloadStart: string
  code: string
  reason: string
  atMs: number
  clientId?: string | undefined
}>
export type StoredRefusal = Refusal & Readonly<{ count: number; firstAtMs: number }>

export type Role = 'keeper' | 'helper' | 'wall'
export type Session = Readonly<{
  id: string
  tokenHash: string
  role: Role
  label: string
  createdAtMs: number
  lastSeenMs: number
  endedAtMs: number | null
}>
export type Invite = Readonly<{
  codeHash: string
  role: Role
  label: string
  createdAtMs: number
  expiresAtMs: number
}>
export type Board = Readonly<{
  id: string
  name: string
  passwordHash: string
  tankIds: readonly string[]
  createdAtMs: number
  endedAtMs: number | null
}>
