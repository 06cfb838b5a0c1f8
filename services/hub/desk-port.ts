import type { LookAnswers } from '../care/look-scene.ts'
import type { LookAdvice } from '../care/looks-wrong.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import type { HistoryView } from '../contract/history-view.ts'
import type { NowView } from '../contract/now-view.ts'
import type { ChannelHealth } from '../contract/probe-entry.ts'
import type { LiveEvent } from '../contract/series-view.ts'
import type { AppendAnswer, ReadingToStore } from '../tank/record.ts'

/**
 * The desk at which everything about all tanks comes together: it keeps one engine a tank, feeds it what was
 * stored, saves what it decides and tells the live stream. Everything with an effect is handed in.
 */
export type WatchDesk = Readonly<{
  /** After readings are durable: derive, judge, tell. Answers when alarms and derived values are saved. */
  readingsStored(
    stored: readonly Readonly<{ reading: ReadingToStore; answer: AppendAnswer }>[]
  ): Promise<void>
  /** A retained message without a time: shown as last known, never judged. */
  lastKnown(readings: readonly ReadingToStore[]): void
  /** After a test, event or profile was added, amended or withdrawn: re-derive from `fromMs` on and judge. */
  entriesChanged(change: Readonly<{ tankId: string; fromMs: number }>): Promise<void>
  /** After a file was taken in: its readings are tested as if they had been heard then; derive and judge with them. */
  readingsImported(change: Readonly<{ tankId: string; fromMs: number }>): Promise<void>
  /**
   * After a calibration, a new life, other limits, another leader, another name or place: read again and derive anew
   * from `fromMs` on. Alarms of a renamed probe follow it.
   */
  probesChanged(
    change: Readonly<{ tankId: string; fromMs: number; renamed?: Readonly<{ from: string; to: string }> }>
  ): Promise<void>
  /** How far each channel of a tank can be trusted now. */
  probeHealth(tankId: string): readonly ChannelHealth[]
  tankAdded(tankId: string): Promise<void>
  tankRemoved(tankId: string): void
  /** A board came or went (from the broker): silence is judged with it. */
  connectionChanged(change: Readonly<{ clientId: string; connected: boolean; atMs: number }>): void
  /** Once a second or so: judges silence and runs the timers. */
  tick(): Promise<void>
  now(tankId: string): NowView | null
  /** What to do about fish that look wrong; null where there is no such tank. */
  looksWrong(tankId: string, answers: LookAnswers): LookAdvice | null
  alarms(ask: Readonly<{ tankId?: string; state?: string; fromMs?: number }>): Promise<readonly AlarmView[]>
  /** One period of a tank, worked out from the record; null where there is no such tank. */
  history(ask: Readonly<{ tankId: string; fromMs: number; toMs: number }>): Promise<HistoryView | null>
  act(ask: AlarmAction): Promise<'done' | 'unknown' | 'wrong-state'>
  /** Whether alarms are being judged: the age of the last finished tick, and the last failure. */
  health(): Readonly<{ lastTickMs: number | null; lastFailure: string | null }>
}>

export type AlarmAction = Readonly<{
  id: string
  action: 'acknowledge' | 'shelve' | 'unshelve' | 'reset'
  by: string
  minutes?: number
  note?: string
}>

/** Where live events go; ids and keeping are the stream's own business. */
export type TellLive = (event: LiveEvent) => void
