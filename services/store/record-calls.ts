import type { TankRecord } from '../tank/record.ts'

type Asynchronous = Omit<TankRecord, 'close'>

/** The record's functions as they run inside the worker: the same asks and answers, without the waiting. */
export type RecordCalls = {
  readonly [Name in keyof Asynchronous]: (
    ...ask: Parameters<Asynchronous[Name]>
  ) => Awaited<ReturnType<Asynchronous[Name]>>
}
export type CallName = keyof RecordCalls

/** One call on its way to the worker, and its answer on the way back. */
export type Call = Readonly<{ id: number; name: CallName; ask: unknown }>

/**
 * `read`: answered at once from what is committed. `gathered`: waits for the commit window with its
 * neighbours. `at-once`: a person waits, so what has gathered so far is committed along with it.
 */
export type CallKind = 'read' | 'gathered' | 'at-once'
export const callKinds: Readonly<Record<CallName, CallKind>> = {
  appendReadings: 'gathered',
  readings: 'read',
  series: 'read',
  probes: 'read',
  renameProbe: 'at-once',
  probeNotes: 'read',
  addCalibration: 'at-once',
  withdrawCalibration: 'at-once',
  addProbeLife: 'at-once',
  withdrawProbeLife: 'at-once',
  putProbeLimits: 'at-once',
  chooseLead: 'at-once',
  placeProbe: 'at-once',
  judgeReadings: 'gathered',
  replaceDerived: 'gathered',
  tanks: 'read',
  addTank: 'at-once',
  changeTank: 'at-once',
  archiveTank: 'at-once',
  eraseTank: 'at-once',
  addTest: 'at-once',
  changeTest: 'at-once',
  tests: 'read',
  addEvent: 'at-once',
  changeEvent: 'at-once',
  events: 'read',
  amendments: 'read',
  importAll: 'at-once',
  saveAlarms: 'at-once',
  alarmSlots: 'read',
  alarmChanges: 'read',
  addMessages: 'at-once',
  messages: 'read',
  noteMessages: 'at-once',
  pruneMessages: 'gathered',
  addAckLink: 'at-once',
  ackLink: 'read',
  useAckLink: 'at-once',
  holdReadings: 'gathered',
  heldTanks: 'read',
  admitHeld: 'at-once',
  refuse: 'gathered',
  refusals: 'read',
  settings: 'read',
  putSettings: 'at-once',
  addSession: 'at-once',
  session: 'read',
  sessions: 'read',
  endSession: 'at-once',
  touchSession: 'gathered',
  addInvite: 'at-once',
  takeInvite: 'at-once',
  addBoard: 'at-once',
  boards: 'read',
  endBoard: 'at-once',
  addAssignment: 'at-once',
  assignments: 'read',
  removeAssignment: 'at-once',
  parkMessage: 'gathered',
  parkedMessages: 'read',
  dropParked: 'at-once',
  exportSlice: 'read',
  health: 'read'
}
