import { signal } from '@preact/signals'
import type { ContactView, HeartbeatView, HolidayView } from '../../services/contract/alert-entry.ts'
import type { AlertOverview, MessageView, TestResult } from '../../services/contract/alert-view.ts'
import type { HolidayBody, PersonBody, Subscription } from '../feed/told.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

/** Whether anybody is told; null before the house has answered. */
export const overview = signal<AlertOverview | null>(null)
/** In the order in which they are told. */
export const people = signal<readonly ContactView[] | null>(null)
export const messages = signal<readonly MessageView[] | null>(null)
export const heartbeat = signal<HeartbeatView | null>(null)
/** Undefined before the house has answered, null where nobody is away. */
export const holiday = signal<HolidayView | null | undefined>(undefined)

export async function loadOverview(): Promise<void> {
  const answer = await calls.alerts()
  if (answer.kind === 'done') overview.value = answer.value
}

export async function loadPeople(): Promise<void> {
  const [answer] = await Promise.all([calls.people(), loadOverview()])
  if (answer.kind === 'done') people.value = answer.value.toSorted((a, b) => a.afterMinutes - b.afterMinutes)
}

export async function loadMessages(): Promise<void> {
  const answer = await calls.messages({ limit: 200 })
  if (answer.kind === 'done') messages.value = answer.value
}

/** What became of the messages about one alarm; null where the house was not reached. */
export async function messagesAbout(alarmId: string): Promise<readonly MessageView[] | null> {
  const answer = await calls.messages({ alarmId, limit: 50 })
  return answer.kind === 'done' ? answer.value : null
}

/** What a browser gives that allowed messages. */
export type PushHere = Subscription
/** A person as it is sent to the house. */
export type PersonEntry = PersonBody
export type PersonSaved =
  | Readonly<{ kind: 'saved'; person: ContactView }>
  /** `faults` stand by the path of their field, such as `ways.0.address`. */
  | Readonly<{ kind: 'refused'; words: string; faults: Readonly<Record<string, string>> }>

export async function savePerson(id: string | null, body: PersonBody): Promise<PersonSaved> {
  const answer = await calls.savePerson(id, body)
  if (answer.kind === 'done') {
    await loadPeople()
    return { kind: 'saved', person: answer.value }
  }
  const errors = answer.kind === 'refused' ? (answer.problem.errors ?? []) : []
  const faults = errors.map(({ pointer, detail }) => [
    pointer.replace(/^#?\//, '').replaceAll('/', '.'),
    detail
  ])
  return { kind: 'refused', words: faultOf(answer) ?? '', faults: Object.fromEntries(faults) }
}

export async function removePerson(id: string): Promise<string | null> {
  const fault = faultOf(await calls.removePerson(id))
  await loadPeople()
  return fault
}

/** Sends a trial by every way and answers how each went. */
export async function tryWays(): Promise<
  Readonly<{ kind: 'tried'; results: readonly TestResult[] } | { kind: 'refused'; words: string }>
> {
  const answer = await calls.tryWays()
  await loadPeople()
  if (answer.kind === 'done') return { kind: 'tried', results: answer.value }
  return { kind: 'refused', words: faultOf(answer) ?? '' }
}

export async function loadHoliday(): Promise<void> {
  const answer = await calls.holiday()
  if (answer.kind === 'done') holiday.value = answer.value
}

export async function setHoliday(body: HolidayBody | null): Promise<string | null> {
  const fault = faultOf(await (body === null ? calls.endHoliday() : calls.setHoliday(body)))
  await loadHoliday()
  return fault
}

export async function loadHeartbeat(): Promise<void> {
  const answer = await calls.heartbeat()
  if (answer.kind === 'done') heartbeat.value = answer.value
}

export async function setHeartbeat(
  body: Readonly<{ url: string; everyMinutes: number; allowPrivate: boolean }> | null
): Promise<string | null> {
  const fault = faultOf(await (body === null ? calls.endHeartbeat() : calls.setHeartbeat(body)))
  await Promise.all([loadHeartbeat(), loadOverview()])
  return fault
}
