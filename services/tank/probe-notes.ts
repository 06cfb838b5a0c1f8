import type { Calibration } from './calibration.ts'
import type { LimitChanges } from './limit-changes.ts'
import type { Quantity } from './quantity.ts'
import type { Flag } from './reading.ts'

/** A stretch of a probe's past whose corrected values may have changed; the end may be infinite. */
export type Stretch = Readonly<{ fromMs: number; toMs: number }>

export type StoredCalibration = Calibration & Readonly<{ quantity: Quantity; madeBy: string }>
export type StoredLife = Readonly<{
  id: string
  fromMs: number
  note: string | null
  madeAtMs: number
  madeBy: string
  withdrawnAtMs: number | null
}>
export type StoredLimits = Readonly<{
  quantity: Quantity
  changes: LimitChanges
  reason: string
  setAtMs: number
  setBy: string
}>
export type LeadChoice = Readonly<{ quantity: Quantity; fromMs: number }>

/** A stretch in which a probe was out of its tank; null: it still is. A reading that put it back has no name. */
export type ProbeAway = Readonly<{ fromMs: number; toMs: number | null; by: string }>

/** What the keeper told of one probe. */
export type ProbeNotes = Readonly<{
  probeId: string
  name: string
  calibrations: readonly StoredCalibration[]
  lives: readonly StoredLife[]
  limits: readonly StoredLimits[]
  leads: readonly LeadChoice[]
  away: readonly ProbeAway[]
}>

/** Both kinds of pH share one electrode. */
export type CalibratedQuantity = Exclude<Quantity, 'ph-millivolts' | 'heater-power'>
export const calibratedAs = (quantity: Quantity): CalibratedQuantity | null =>
  quantity === 'ph-millivolts' ? 'ph' : quantity === 'heater-power' ? null : quantity

type WithoutId<Of> = Of extends unknown ? Omit<Of, 'id' | 'withdrawnAtMs'> : never
export type NewCalibration = Readonly<{
  probeId: string
  quantity: CalibratedQuantity
  calibration: WithoutId<Calibration>
  by: string
  clientKey?: string | undefined
}>
export type NewProbeLife = Readonly<{
  probeId: string
  fromMs: number
  note?: string | undefined
  by: string
  atMs: number
}>
export type WithdrawNote = Readonly<{ probeId: string; id: string; by: string; atMs: number }>
/** `changes` null goes back to the usual limits. */
export type ProbeLimitsAsk = Readonly<{
  probeId: string
  quantity: Quantity
  changes: LimitChanges | null
  reason: string
  by: string
  atMs: number
}>
export type LeadAsk = Readonly<{
  probeId: string
  quantity: Quantity
  fromMs: number
  by: string
  atMs: number
}>
export type PlaceAsk = Readonly<{ probeId: string; inTank: boolean; by: string; atMs: number }>
export type Judgement = Readonly<{
  tankId: string
  probe: string
  quantity: Quantity
  atMs: number
  flag: Flag
  why: string | null
}>

/** The part of the record that is about what the keeper told of probes. */
export type ProbeRecord = Readonly<{
  /** What the keeper told of each probe of a tank, withdrawn things included. */
  probeNotes(tankId: string): Promise<readonly ProbeNotes[]>
  /** Corrects what it changes; a repeated `clientKey` answers the first id. */
  addCalibration(ask: NewCalibration): Promise<Readonly<{ id: string; repeated: boolean }> & Stretch>
  /** Null where there is none of that id, or it was withdrawn before. */
  withdrawCalibration(ask: WithdrawNote): Promise<Stretch | null>
  addProbeLife(ask: NewProbeLife): Promise<Readonly<{ id: string }> & Stretch>
  withdrawProbeLife(ask: WithdrawNote): Promise<Stretch | null>
  putProbeLimits(ask: ProbeLimitsAsk): Promise<void>
  chooseLead(ask: LeadAsk): Promise<void>
  /** Its alarms follow it; its board may go on under the name it had. */
  renameProbe(ask: Readonly<{ probeId: string; name: string }>): Promise<void>
  /** Takes a probe out of its tank, or puts it back; the next of its quantities leads where it led. False: it was so. */
  placeProbe(ask: PlaceAsk): Promise<boolean>
  /** The later judgement of stored readings; roll-ups follow. Answers how many changed. */
  judgeReadings(batch: readonly Judgement[]): Promise<number>
}>
