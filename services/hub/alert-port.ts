import type { ContactEntry, ContactView, HeartbeatView, HolidayView } from '../contract/alert-entry.ts'
import type { AlertOverview, MessageView, TestResult } from '../contract/alert-view.ts'

/** Where people are told: what the HTTP door may ask of it. */
export type AlertPort = Readonly<{
  overview(): Promise<AlertOverview>
  contacts(): readonly ContactView[]
  addContact(entry: ContactEntry): Promise<ContactView>
  /** Null where there is no contact of this id. */
  changeContact(id: string, entry: ContactEntry): Promise<ContactView | null>
  removeContact(id: string): Promise<boolean>
  messages(
    ask: Readonly<{ tankId?: string; alarmId?: string; fromMs?: number; limit: number }>
  ): Promise<readonly MessageView[]>
  /** Sends a trial by every way now and answers how each went. */
  testNow(): Promise<readonly TestResult[]>
  holiday(): HolidayView | null
  /** Null ends it. Answers false where the friend is no contact. */
  setHoliday(holiday: HolidayAsk | null): Promise<boolean>
  heartbeat(): HeartbeatView | null
  setHeartbeat(
    heartbeat: Readonly<{ url: string; everyMinutes: number; allowPrivate: boolean }> | null
  ): Promise<void>
  /** What stands behind the link of a message; null where there is none. */
  openLink(token: string): Promise<LinkView | null>
  /** Acknowledges through a link, once. */
  useLink(token: string, fromAddress: string): Promise<LinkUse>
}>

export type HolidayAsk = Readonly<{
  fromMs: number
  untilMs: number
  friendId: string
  card: Readonly<{ lookAt: readonly string[]; labelledPortions: boolean; call: string }>
}>

export type LinkView = Readonly<{
  state: 'open' | 'used' | 'expired' | 'seen'
  tankName: string
  what: string
  sinceWords: string
  doNow: readonly string[]
  doNot: readonly string[]
  caution: string
  cardLines: readonly string[]
  /** Who acknowledged it and when, where somebody did. */
  acknowledged: string | null
}>

export type LinkUse = 'done' | 'used' | 'expired' | 'unknown' | 'wrong-state'
