import type { AlarmView } from '../contract/alarm-view.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { Fate, MessageNote, OutboxMessage, OwedMessage } from '../tank/message.ts'
import type { TankRecord } from '../tank/record.ts'
import type { AddressBook } from './address-book.ts'
import { type Circuit, closedCircuit, stepCircuit } from './backoff.ts'
import type { Contact, Way } from './contact.ts'
import {
  judgeMessage,
  type MessageVerdict,
  quietFor,
  type SendOutcome,
  standingOf,
  stepMessage
} from './judge-message.ts'
import { type Letter, type Senders, sendBy } from './letter.ts'
import { makeOutboxMemory } from './outbox-memory.ts'
import { judgeUndelivered } from './undelivered.ts'

const minuteMs = 60_000
/** An alarm may be hushed for many days before anybody is told, and stand for many more. Our own choice. */
const lookBackMs = 30 * 24 * 60 * minuteMs
const mostAtOnce = 16
const mostLooked = 2000

export type OfficePorts = Readonly<{
  record: Pick<TankRecord, 'messages' | 'noteMessages'>
  book: Pick<AddressBook, 'contacts' | 'putContacts'>
  senders: Senders
  /** How an alarm stands now; null where it is unknown. */
  look: (
    ask: Readonly<{ tankId: string; activationId: string; madeAtMs: number }>
  ) => Promise<AlarmView | null>
  write: (
    ask: Readonly<{ message: OutboxMessage; contact: Contact; alarm: AlarmView | null }>
  ) => Promise<Letter>
  clock: () => number
  /** A fraction from 0 to 1; spreads the tries. */
  random: () => number
  log: Readonly<{ warn: (fields: object) => void; info: (fields: object) => void }>
}>

export type WayHealth = Readonly<{
  trouble: Readonly<{
    outcome: 'failed' | 'refused'
    because: string
    sinceMs: number
    nextTryMs: number | null
  }> | null
  lastDeliveredMs: number | null
}>

export type PostOffice = Readonly<{
  /** Sends what is due. Answers once all of it is on its way, not once it has arrived. */
  tick: () => Promise<void>
  /** Once nothing is under way any more. */
  settled: () => Promise<void>
  undelivered: () => ReadonlyMap<string, Finding>
  wayHealth: (wayId: string) => WayHealth
  /** Takes messages that the record could not keep; they go out all the same. */
  takeUnsaved: (messages: readonly OwedMessage[]) => void
  /** A trial or a try told how a way does. */
  heardOf: (wayId: string, result: SendOutcome) => void
}>

type Going = Readonly<{ message: OutboxMessage; wayId: string; done: Promise<void> }>
type Sending = Extract<MessageVerdict, Readonly<{ do: 'send' }>>

/** Carries messages from the outbox to people: at least once each, by one way after the other. */
export function makePostOffice(ports: OfficePorts): PostOffice {
  const { record, clock } = ports
  const circuits = new Map<string, Circuit>()
  const health = new Map<string, WayHealth>()
  const going = new Map<string, Going>()
  const outbox = makeOutboxMemory(record)
  let finished = new Set<string>()
  let undelivered: ReadonlyMap<string, Finding> = new Map()
  let lookedMinute = Number.NEGATIVE_INFINITY

  function makeLook(): (message: OutboxMessage) => Promise<AlarmView | null> {
    const seen = new Map<string, Promise<AlarmView | null>>()
    return (message) => {
      const { tankId, activationId, madeAtMs } = message
      if (tankId === null || activationId === null) return Promise.resolve(null)
      const known = seen.get(activationId)
      if (known !== undefined) return known
      const asking = ports.look({ tankId, activationId, madeAtMs })
      seen.set(activationId, asking)
      return asking
    }
  }

  const contactOf = (message: OutboxMessage): Contact | null =>
    ports.book.contacts().find(({ id }) => id === message.contactId) ?? null

  let ticking: Promise<void> | null = null
  function tick(): Promise<void> {
    ticking ??= tickOnce().finally(() => {
      ticking = null
    })
    return ticking
  }

  async function tickOnce(): Promise<void> {
    const nowMs = clock()
    const look = makeLook()
    const minute = Math.floor(nowMs / minuteMs)
    if (minute !== lookedMinute) {
      lookedMinute = minute
      await lookOver(look, nowMs).catch((err: unknown) =>
        ports.log.warn({ event: 'outbox-not-looked-over', err })
      )
    }
    finished = new Set()
    const due = await outbox.dueAt(nowMs)
    const notes: MessageNote[] = []
    for (const message of due) {
      // What arrived while this list was being worked through still stands in it as waiting.
      if (going.has(message.id) || finished.has(message.id)) continue
      const contact = contactOf(message)
      const alarm = await look(message)
      // What was looked up may have taken a while: what is busy is asked afresh.
      const busy = new Set([...going.values()].map(({ wayId }) => wayId))
      const verdict = judgeMessage(message, {
        nowMs,
        contact,
        standing: standingOf(alarm),
        hasNewer: due.some((other) => isNewer(other, message)),
        circuits,
        busy
      })
      if (verdict.do === 'send' && contact !== null) {
        if (going.size >= mostAtOnce) break
        start({ message, contact, alarm, verdict })
      } else if (verdict.do !== 'send') notes.push(noteOf(message, verdict, nowMs))
    }
    await outbox.note(notes)
  }

  function start(
    ask: Readonly<{ message: OutboxMessage; contact: Contact; alarm: AlarmView | null; verdict: Sending }>
  ) {
    const { message, verdict } = ask
    const done = carry(ask)
      .catch((cause: unknown) =>
        ports.log.warn({ event: 'message-not-noted', message: message.id, err: cause })
      )
      .finally(() => {
        going.delete(message.id)
        finished.add(message.id)
      })
    going.set(message.id, { message, wayId: verdict.way.id, done })
  }

  async function carry({ message, contact, alarm, verdict }: Parameters<typeof start>[0]): Promise<void> {
    const letter = await ports.write({ message, contact, alarm })
    const result = await sendBy(ports.senders, letter, verdict.way)
    const nowMs = clock()
    heardOf(verdict.way.id, result)
    const waysLeft = contact.ways.filter(({ id }) => !message.progress.spent.includes(id)).length
    const next = stepMessage(message, result, { nowMs, roll: ports.random(), tried: verdict, waysLeft })
    const fate: Fate = { atMs: nowMs, wayId: verdict.way.id, what: result.outcome, because: result.because }
    await outbox.note([{ id: message.id, ...next, fate }], message)
    ports.log.info({ event: 'message', message: message.id, way: verdict.way.id, ...result })
    if (result.outcome === 'refused' && result.wayIsGone === true) await dropWay(contact.id, verdict.way)
    if (next.state === 'given-up') lookedMinute = Number.NEGATIVE_INFINITY
  }

  async function dropWay(contactId: string, way: Way): Promise<void> {
    await ports.book.putContacts(
      ports.book
        .contacts()
        .map((contact) =>
          contact.id === contactId
            ? { ...contact, ways: contact.ways.filter(({ id }) => id !== way.id) }
            : contact
        )
    )
  }

  function heardOf(wayId: string, result: SendOutcome): void {
    const nowMs = clock()
    const circuit = stepCircuit(circuits.get(wayId) ?? closedCircuit, result.outcome, nowMs)
    circuits.set(wayId, circuit)
    const before = health.get(wayId) ?? { trouble: null, lastDeliveredMs: null }
    health.set(
      wayId,
      result.outcome === 'delivered'
        ? { trouble: null, lastDeliveredMs: nowMs }
        : {
            ...before,
            trouble: {
              outcome: result.outcome,
              because: result.because,
              sinceMs: before.trouble?.sinceMs ?? nowMs,
              nextTryMs: circuit.openUntilMs
            }
          }
    )
  }

  /** Once a minute: who was not reached, and whose turn comes sooner because of it. */
  async function lookOver(look: ReturnType<typeof makeLook>, nowMs: number): Promise<void> {
    const recent = await record.messages({ fromMs: nowMs - lookBackMs, limit: mostLooked })
    const found = new Map<string, Finding>()
    const notes: MessageNote[] = []
    for (const messages of byActivation(recent).values()) {
      const first = messages[0]
      if (
        first === undefined ||
        messages.every(({ state }) => state === 'delivered' || state === 'not-needed')
      )
        continue
      const alarm = await look(first)
      const finding = judgeUndelivered(messages, { nowMs, state: alarm?.state ?? null })
      if (finding !== null && first.tankId !== null)
        found.set(first.tankId, {
          ...finding,
          facts: { ...finding.facts, ...(alarm === null ? {} : { alarm: alarm.kind }) }
        })
      for (const message of messages) {
        const contact = contactOf(message)
        if (message.state !== 'waiting' || message.dueAtMs <= nowMs || contact === null) continue
        const isTurn = message.earliestMs <= nowMs || finding !== null
        const isUntried = message.progress.tries === 0
        // Made under a clock that ran ahead: its time would not come for long.
        const isAhead = message.madeAtMs > nowMs + minuteMs
        if (
          ((isTurn && isUntried) || isAhead) &&
          quietFor(message, { nowMs, standing: standingOf(alarm) }, contact) === null
        )
          notes.push({ id: message.id, state: 'waiting', dueAtMs: nowMs, progress: message.progress })
      }
    }
    undelivered = found
    await outbox.note(notes)
  }

  return {
    tick,
    settled: async () => {
      while (going.size > 0) await Promise.all([...going.values()].map(({ done }) => done))
    },
    undelivered: () => undelivered,
    wayHealth: (wayId) => health.get(wayId) ?? { trouble: null, lastDeliveredMs: null },
    takeUnsaved: outbox.take,
    heardOf
  }
}

/** Of two messages about the same thing to the same person, the later one says all that the earlier would. */
const isNewer = (other: OutboxMessage, message: OutboxMessage): boolean =>
  other.contactId === message.contactId &&
  other.sort === message.sort &&
  message.sort !== 'test' &&
  other.activationId === message.activationId &&
  other.madeAtMs > message.madeAtMs

function noteOf(
  message: OutboxMessage,
  verdict: Exclude<MessageVerdict, Sending>,
  nowMs: number
): MessageNote {
  const { id, progress } = message
  const fate = (what: Fate['what'], because: string): Fate => ({ atMs: nowMs, wayId: null, what, because })
  if (verdict.do === 'end')
    return { id, state: verdict.state, dueAtMs: nowMs, progress, fate: fate(verdict.state, verdict.because) }
  const note = { id, state: 'waiting' as const, dueAtMs: verdict.untilMs, progress }
  const last = message.fates.at(-1)
  // What waits on from minute to minute is said once.
  const isSaid =
    last?.what === 'held' && last.because === verdict.because && verdict.because !== 'quiet-hours'
  return verdict.isHeld && !isSaid ? { ...note, fate: fate('held', verdict.because) } : note
}

function byActivation(messages: readonly OutboxMessage[]): ReadonlyMap<string, readonly OutboxMessage[]> {
  const groups = new Map<string, OutboxMessage[]>()
  for (const message of messages) {
    if (message.activationId === null) continue
    groups.set(message.activationId, [...(groups.get(message.activationId) ?? []), message])
  }
  return groups
}
