import type { Priority } from '../tank/alarm-names.ts'

type Shared = Readonly<{ id: string; label?: string | undefined }>
export type EmailWay = Shared & Readonly<{ kind: 'email'; address: string }>
export type PostWay = Shared &
  Readonly<{
    kind: 'post'
    url: string
    headers: Readonly<Record<string, string>>
    contentType: string
    template: string
    allowPrivate: boolean
  }>
export type WebhookWay = Shared &
  Readonly<{ kind: 'webhook'; url: string; secret: string; allowPrivate: boolean }>
export type PushWay = Shared &
  Readonly<{
    kind: 'push'
    subscription: Readonly<{ endpoint: string; keys: Readonly<{ p256dh: string; auth: string }> }>
    allowPrivate: boolean
  }>
/** One way to a person, with what it needs. */
export type Way = EmailWay | PostWay | WebhookWay | PushWay

/** Local times of day, `HH:MM`; over midnight where `to` is the earlier one. */
export type QuietHours = Readonly<{ from: string; to: string }>

/** A person who is to be told. */
export type Contact = Readonly<{
  id: string
  name: string
  timeZone: string
  quietHours: QuietHours | null
  afterMinutes: number
  leastPriority: Priority
  digestAt: string | null
  tanks?: readonly string[] | undefined
  ways: readonly Way[]
}>

/** While the keeper is away, a friend looks after the tank. */
export type Holiday = Readonly<{
  fromMs: number
  untilMs: number
  friendId: string
  card: Readonly<{ lookAt: readonly string[]; labelledPortions: boolean; call: string }>
}>

export const isHoliday = (holiday: Holiday | null, nowMs: number): holiday is Holiday =>
  holiday !== null && holiday.fromMs <= nowMs && nowMs < holiday.untilMs
