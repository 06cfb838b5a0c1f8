import type {
  ContactEntry,
  ContactView,
  HeartbeatView,
  HolidayView
} from '../../services/contract/alert-entry.ts'
import type { AlertOverview, MessageView, TestResult } from '../../services/contract/alert-view.ts'
import type { UpkeepView } from '../../services/contract/upkeep-view.ts'
import type { Client } from './client.ts'

/** What a browser gives that allowed messages. */
export type Subscription = Readonly<{
  endpoint: string
  keys: Readonly<{ p256dh: string; auth: string }>
}>

/** What is sent to enter a person; what is left out keeps its usual value. */
export type PersonBody = Readonly<Omit<ContactEntry, 'ways'> & { ways: readonly Readonly<object>[] }>
export type HolidayBody = Readonly<{
  from: number
  until: number
  friendId: string
  card: Readonly<{ lookAt: readonly string[]; labelledPortions: boolean; call: string }>
}>
export type FeedView = Readonly<{ id: string; tankId: string; label: string; createdAtMs: number }>

/** A trial waits for the slowest way. */
const trialPatienceMs = 60_000
const at = (text: string): string => encodeURIComponent(text)

/** Questions about who is told, and about upkeep. */
export function makeToldCalls(client: Client) {
  return {
    alerts: () => client.get<AlertOverview>('/api/alerts'),
    tryWays: () => client.send<readonly TestResult[]>('POST', '/api/alerts/test', {}, trialPatienceMs),
    people: () => client.get<readonly ContactView[]>('/api/contacts'),
    savePerson: (id: string | null, body: PersonBody) =>
      id === null
        ? client.send<ContactView>('POST', '/api/contacts', body)
        : client.send<ContactView>('PUT', `/api/contacts/${at(id)}`, body),
    removePerson: (id: string) => client.send<unknown>('DELETE', `/api/contacts/${at(id)}`),
    messages: (ask: Readonly<{ alarmId?: string; limit: number }>) =>
      client.get<readonly MessageView[]>(
        `/api/messages?limit=${ask.limit}${ask.alarmId === undefined ? '' : `&alarm=${at(ask.alarmId)}`}`
      ),
    holiday: () => client.get<HolidayView | null>('/api/holiday'),
    setHoliday: (body: HolidayBody) => client.send<HolidayView>('PUT', '/api/holiday', body),
    endHoliday: () => client.send<unknown>('DELETE', '/api/holiday'),
    heartbeat: () => client.get<HeartbeatView | null>('/api/heartbeat'),
    setHeartbeat: (body: Readonly<{ url: string; everyMinutes: number; allowPrivate: boolean }>) =>
      client.send<HeartbeatView>('PUT', '/api/heartbeat', body),
    endHeartbeat: () => client.send<unknown>('DELETE', '/api/heartbeat'),

    upkeep: (tankId: string) => client.get<readonly UpkeepView[]>(`/api/tanks/${at(tankId)}/upkeep`),
    doUpkeep: (tankId: string, task: string, clientKey: string) =>
      client.send<Readonly<{ id: string }>>('POST', `/api/tanks/${at(tankId)}/upkeep/${at(task)}`, {
        clientKey
      }),
    feeds: () => client.get<readonly FeedView[]>('/api/feeds'),
    makeFeed: (body: Readonly<{ tankId: string; label: string }>) =>
      client.send<FeedView & Readonly<{ path: string }>>('POST', '/api/feeds', body),
    endFeed: (id: string) => client.send<unknown>('DELETE', `/api/feeds/${at(id)}`)
  }
}
