import type { MessageView } from '../contract/alert-view.ts'
import { noProgress, type OutboxMessage } from '../tank/message.ts'
import type { TankRecord } from '../tank/record.ts'
import type { Contact, Way } from './contact.ts'
import { wayWords } from './contact-entries.ts'
import type { SendOutcome } from './judge-message.ts'
import { fateWords } from './outcome-words.ts'

const hourMs = 3_600_000

/** A message as the page shows it. */
export function messageViewOf(message: OutboxMessage, contacts: readonly Contact[]): MessageView {
  const { id, sort, contactId, tankId, priority, because, state, madeAtMs, dueAtMs } = message
  return {
    id,
    sort,
    contactId,
    contactName: contacts.find((contact) => contact.id === contactId)?.name ?? null,
    about: aboutWords(message),
    tankId,
    alarmId: message.activationId,
    priority,
    because,
    state,
    madeAtMs,
    dueAtMs,
    tries: message.progress.tries,
    fates: message.fates.map((fate) => {
      const way = contacts.flatMap(({ ways }) => ways).find((one) => one.id === fate.wayId)
      return { ...fate, way: way === undefined ? null : wayWords(way), words: fateWords(fate) }
    })
  }
}

function aboutWords({ sort, title, alarmKind }: OutboxMessage): string {
  if (sort === 'test') return 'a trial of the ways'
  return title ?? alarmKind?.replaceAll('-', ' ') ?? 'an alarm'
}

/** Puts a trial and its result on record beside the messages of alarms. */
export async function noteTrial(
  record: Pick<TankRecord, 'addMessages' | 'noteMessages'>,
  ask: Readonly<{
    id: string
    contact: Contact
    way: Way
    result: SendOutcome
    nowMs: number
    endMs: number
  }>
): Promise<void> {
  const { id, contact, way, result, nowMs, endMs } = ask
  await record.addMessages([
    {
      id,
      sort: 'test',
      contactId: contact.id,
      tankId: null,
      activationId: null,
      madeAtMs: nowMs,
      earliestMs: nowMs,
      // Far enough that nobody sends it again between this line and the next.
      dueAtMs: nowMs + hourMs,
      priority: 'low',
      because: 'asked-for'
    }
  ])
  await record.noteMessages([
    {
      id,
      state: result.outcome === 'delivered' ? 'delivered' : 'given-up',
      dueAtMs: nowMs,
      progress: { ...noProgress, tries: 1, firstTryMs: nowMs, wayId: way.id },
      fate: { atMs: endMs, wayId: way.id, what: result.outcome, because: result.because }
    }
  ])
}
