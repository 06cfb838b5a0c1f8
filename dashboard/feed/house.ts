import type { AlarmView, NoiseView } from '../../services/contract/alarm-view.ts'
import type { EventView } from '../../services/contract/event-entry.ts'
import type { HistoryView } from '../../services/contract/history-view.ts'
import type { HouseSettings, MeView } from '../../services/contract/house-entry.ts'
import type { LookEntry, LookView } from '../../services/contract/look-entry.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import type { SeriesView } from '../../services/contract/series-view.ts'
import type { SpeciesView } from '../../services/contract/species-view.ts'
import type { TankProfileBody, TankView } from '../../services/contract/tank-profile.ts'
import type { TestView } from '../../services/contract/test-entry.ts'
import type { Client, Made } from './client.ts'
import { makeProbeCalls } from './probe-calls.ts'
import { makeToldCalls } from './told.ts'

export type TabletView = Readonly<{
  id: string
  label: string
  role: string
  createdAtMs: number
  lastSeenMs: number
}>
export type BoardView = Readonly<{
  id: string
  name: string
  tankIds: readonly string[]
  createdAtMs: number
}>
/** A code that lets one screen in; `reachable` is false while only this machine can reach the watch. */
export type TabletInvite = Readonly<{
  code: string
  url: string
  qrSvg: string
  expiresAtMs: number
  reachable: boolean
}>
/** A formula as the house lists it. */
export type CalculatorView = Readonly<{
  name: string
  title: string
  formula: string
  source: string
  validRange: string
  cautions: readonly string[]
  example: Readonly<Record<string, unknown>>
}>

const at = (text: string): string => encodeURIComponent(text)
const tank = (id: string): string => `/api/tanks/${at(id)}`

/** Every question this page asks of the house, by name. */
export function makeHouseCalls(client: Client) {
  return {
    ...makeToldCalls(client),
    me: () => client.get<MeView>('/api/me'),
    setup: (body: Readonly<{ code: string; password: string; settings?: Partial<HouseSettings> }>) =>
      client.send<unknown>('POST', '/api/setup', body),
    logIn: (password: string) => client.send<unknown>('POST', '/api/session', { password }),
    logOut: () => client.send<unknown>('DELETE', '/api/session'),
    join: (code: string) => client.send<unknown>('POST', '/api/tablets/join', { code }),
    changeSettings: (change: Partial<HouseSettings>) =>
      client.send<HouseSettings>('PUT', '/api/settings', change),

    species: () => client.get<readonly SpeciesView[]>('/api/species'),
    tanks: () => client.get<readonly TankView[]>('/api/tanks'),
    addTank: (body: TankProfileBody & { id?: string }) => client.send<Made>('POST', '/api/tanks', body),
    changeTank: (id: string, change: Partial<TankProfileBody>) =>
      client.send<TankView>('PATCH', tank(id), change),
    archiveTank: (id: string) => client.send<unknown>('DELETE', tank(id)),
    now: (id: string) => client.get<NowView>(`${tank(id)}/now`),
    series: (id: string, quantity: string, ask: Readonly<{ fromMs: number; toMs: number; points: number }>) =>
      client.get<SeriesView>(
        `${tank(id)}/series/${at(quantity)}?from=${ask.fromMs}&to=${ask.toMs}&points=${ask.points}`
      ),

    history: (id: string, ask: Readonly<{ fromMs: number; toMs: number }>) =>
      client.get<HistoryView>(`${tank(id)}/history?from=${ask.fromMs}&to=${ask.toMs}`),
    tests: (id: string) => client.get<readonly TestView[]>(`${tank(id)}/tests`),
    changeTest: (id: string, testId: string, change: unknown) =>
      client.send<unknown>('PATCH', `${tank(id)}/tests/${at(testId)}`, change),
    withdrawTest: (id: string, testId: string) =>
      client.send<unknown>('DELETE', `${tank(id)}/tests/${at(testId)}`),
    events: (id: string) => client.get<readonly EventView[]>(`${tank(id)}/events`),
    changeEvent: (id: string, eventId: string, change: unknown) =>
      client.send<EventView>('PATCH', `${tank(id)}/events/${at(eventId)}`, change),
    withdrawEvent: (id: string, eventId: string) =>
      client.send<unknown>('DELETE', `${tank(id)}/events/${at(eventId)}`),
    looksWrong: (id: string, body: Partial<LookEntry>) =>
      client.send<LookView>('POST', `${tank(id)}/looks-wrong`, body),
    post: (path: string, body: unknown) => client.send<Made>('POST', path, body),

    alarms: (id: string) => client.get<readonly AlarmView[]>(`/api/alarms?tank=${at(id)}`),
    noise: (id: string, days: number) =>
      client.get<NoiseView>(`/api/alarms/noise?tank=${at(id)}&days=${days}`),
    actOnAlarm: (
      id: string,
      action: 'acknowledge' | 'shelve' | 'unshelve' | 'reset',
      body: Readonly<Record<string, unknown>>
    ) => client.send<unknown>('POST', `/api/alarms/${at(id)}/${action}`, body),

    calculators: () => client.get<readonly CalculatorView[]>('/api/calculate'),
    calculate: (name: string, body: Readonly<Record<string, unknown>>) =>
      client.send<Readonly<Record<string, unknown>>>('POST', `/api/calculate/${at(name)}`, body),

    ...makeProbeCalls(client),

    tablets: () => client.get<readonly TabletView[]>('/api/tablets'),
    inviteTablet: (body: Readonly<{ label: string; role: 'wall' | 'helper' }>) =>
      client.send<TabletInvite>('POST', '/api/tablets', body),
    endTablet: (id: string) => client.send<unknown>('DELETE', `/api/tablets/${at(id)}`),
    boards: () => client.get<readonly BoardView[]>('/api/boards'),
    addBoard: (body: Readonly<{ name: string; tankIds: readonly string[] }>) =>
      client.send<Readonly<{ id: string; name: string; password: string }>>('POST', '/api/boards', body),
    endBoard: (id: string) => client.send<unknown>('DELETE', `/api/boards/${at(id)}`)
  }
}
