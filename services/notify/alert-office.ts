import type { AlarmView } from '../contract/alarm-view.ts'
import type { TestResult } from '../contract/alert-view.ts'
import type { AlertPort } from '../hub/alert-port.ts'
import type { WatchDesk } from '../hub/desk-port.ts'
import type { MessagePlan } from '../hub/watched-tank.ts'
import type { TankRecord } from '../tank/record.ts'
import { type AckLinks, makeAckLinks } from './ack-links.ts'
import type { AddressBook } from './address-book.ts'
import { alertOverviewOf, drillLines } from './alert-overview.ts'
import { isHoliday } from './contact.ts'
import { contactFrom, contactViewOf } from './contact-entries.ts'
import { digestDue, digestText, owedDigest } from './digest.ts'
import { friendCardLines } from './friend-card.ts'
import { makeHeart } from './heartbeat.ts'
import { type Senders, sendBy } from './letter.ts'
import { makeLetterWriter, trialLetter } from './letter-writer.ts'
import { openLink, useLink } from './link-page.ts'
import { type MailServer, makeMailSend } from './mail-way.ts'
import { messageViewOf, noteTrial } from './message-record.ts'
import type { Wording } from './message-text.ts'
import { outcomeWords } from './outcome-words.ts'
import { planMessages } from './plan-messages.ts'
import { makePostOffice, type OfficePorts } from './post-office.ts'
import { sendPost } from './post-way.ts'
import { makePushSend, pushSubject } from './push-way.ts'
import { makeWebhookSend } from './webhook-way.ts'

const dayMs = 86_400_000
const mostWaiting = 1000
/** What became of messages is kept for a year and a bit, and no more of them than this. Our own choice. */
const keptMessages = { forMs: 400 * dayMs, most: 20_000 } as const

export type AlertOfficePorts = Readonly<{
  record: TankRecord
  desk: Pick<WatchDesk, 'now' | 'alarms' | 'act'>
  book: AddressBook
  mailServer: MailServer | null
  publicUrl: string | null
  /** Where others reach this watch; null where only this machine does. */
  linkBase: () => string | null
  wording: () => Promise<Wording>
  isWell: () => Promise<boolean>
  /** What is to be done about the tanks, for the morning's summary. */
  upkeep: () => Promise<readonly string[]>
  clock: () => number
  random: () => number
  log: OfficePorts['log']
  /** Ways in place of the real ones, for trials of the office itself. */
  senders?: Senders
}>

export type AlertOffice = AlertPort &
  Readonly<{
    /** Sends what is due; once a second or so. */
    tick: () => Promise<void>
    /** Digests and the heartbeat; once a minute or so. */
    minute: () => Promise<void>
    settled: () => Promise<void>
    plan: MessagePlan
  }>

/** Everything about telling people, behind one door. */
export function makeAlertOffice(ports: AlertOfficePorts): AlertOffice {
  const { record, desk, book, clock } = ports
  const source = (): string => ports.publicUrl ?? `urn:shoalkeeper:${book.houseId()}`
  const senders: Senders = ports.senders ?? {
    email: makeMailSend({ server: ports.mailServer }),
    post: sendPost,
    webhook: makeWebhookSend({ source, clock }),
    push: makePushSend({
      keys: book.pushKeys,
      subject: () => pushSubject(ports.publicUrl)
    })
  }
  const links: AckLinks = makeAckLinks({ record, key: book.linkKey, base: ports.linkBase })
  const tankName = (tankId: string): string => desk.now(tankId)?.name ?? tankId

  async function look(ask: Readonly<{ tankId: string; activationId: string; madeAtMs: number }>) {
    const { tankId, activationId } = ask
    const now = desk.now(tankId)
    if (now === null) return null
    const standing = now.alarms.find(({ id }) => id === activationId)
    if (standing !== undefined) return standing
    const past = await desk.alarms({ tankId, fromMs: ask.madeAtMs - 30 * dayMs })
    return past.find(({ id }) => id === activationId) ?? null
  }

  const office = makePostOffice({
    record,
    book,
    senders,
    look,
    write: makeLetterWriter({ links, tankName, wording: ports.wording, holiday: book.holiday, clock }),
    clock,
    random: ports.random,
    log: ports.log
  })
  const heart = makeHeart({ heartbeat: book.heartbeat, isWell: ports.isWell, clock })

  const lastDrillMs = (): number | null => {
    const last = book.lastRuns().drill
    return typeof last === 'number' ? last : null
  }

  async function digests(): Promise<void> {
    const nowMs = clock()
    for (const contact of book.contacts()) {
      const name = `digest.${contact.id}`
      const last = book.lastRuns()[name]
      const lastDate = typeof last === 'string' ? last : null
      if (contact.digestAt === null || contact.ways.length === 0) continue
      const { timeZone, digestAt } = contact
      const date = digestDue({ nowMs, timeZone, digestAt, lastDate })
      if (date === null) continue
      // A person who has just been entered is not owed yesterday's.
      if (lastDate !== null) {
        const sinceMs = Math.max(Date.parse(`${lastDate}T00:00:00Z`), nowMs - 14 * dayMs)
        const text = await digestFor({ contact, sinceMs, nowMs })
        await record.addMessages([owedDigest({ contact, date, text, nowMs })])
      }
      await book.putLastRun(name, date)
    }
  }

  async function digestFor(
    ask: Readonly<{ contact: ReturnType<AddressBook['contacts']>[number]; sinceMs: number; nowMs: number }>
  ): Promise<string> {
    const { contact, sinceMs, nowMs } = ask
    const ids = (await record.tanks()).map(({ id }) => id)
    const tanks = []
    for (const tankId of ids.filter((id) => contact.tanks?.includes(id) ?? true)) {
      const now = desk.now(tankId)
      if (now === null) continue
      const alarms: readonly AlarmView[] = await desk.alarms({ tankId, fromMs: sinceMs })
      tanks.push({ name: now.name, sentence: now.sentence, next: now.next.words, alarms })
    }
    const upkeep = [...(await ports.upkeep()), ...drillLines(lastDrillMs(), nowMs)]
    return digestText({
      tanks,
      sinceMs,
      nowMs,
      timeZone: contact.timeZone,
      wording: await ports.wording(),
      upkeep
    })
  }

  let prunedAtMs = Number.NEGATIVE_INFINITY
  async function prune(): Promise<void> {
    const nowMs = clock()
    if (nowMs - prunedAtMs < dayMs) return
    prunedAtMs = nowMs
    await record.pruneMessages({ beforeMs: nowMs - keptMessages.forMs, keep: keptMessages.most })
  }

  async function testNow(): Promise<readonly TestResult[]> {
    const nowMs = clock()
    const trials = book.contacts().flatMap((contact) => contact.ways.map((way) => ({ contact, way })))
    const results = await Promise.all(
      trials.map(async ({ contact, way }): Promise<TestResult> => {
        const id = `test.${nowMs}.${way.id}`
        const result = await sendBy(senders, trialLetter({ id, nowMs, contactName: contact.name }), way)
        office.heardOf(way.id, result)
        await noteTrial(record, { id, contact, way, result, nowMs, endMs: clock() })
        const { outcome, because } = result
        return {
          contactId: contact.id,
          contactName: contact.name,
          wayId: way.id,
          kind: way.kind,
          outcome,
          because,
          words: outcomeWords(result),
          tookMs: Math.max(0, clock() - nowMs)
        }
      })
    )
    await book.putLastRun('drill', nowMs)
    return results
  }

  const linkPorts = { links, desk, look, tankName, book, wording: ports.wording, clock }
  return {
    tick: office.tick,
    settled: office.settled,
    minute: async () => {
      await digests()
      await heart.beat()
      await prune()
    },
    plan: {
      plan: (ask) => planMessages({ ...ask, contacts: book.contacts(), holiday: book.holiday() }),
      unsaved: office.takeUnsaved,
      undelivered: (tankId) => office.undelivered().get(tankId) ?? null
    },

    overview: async () => {
      const waiting = await record.messages({
        state: 'waiting',
        dueByMs: Number.MAX_SAFE_INTEGER,
        limit: mostWaiting
      })
      return alertOverviewOf({
        contacts: book.contacts(),
        healthOf: office.wayHealth,
        undelivered: office.undelivered(),
        waiting: waiting.length,
        mailFrom: ports.mailServer?.from ?? null,
        pushKey: book.pushKeys().publicKey,
        publicUrl: ports.publicUrl,
        linkBase: ports.linkBase(),
        lastDrillMs: lastDrillMs(),
        holidayIsOn: isHoliday(book.holiday(), clock()),
        heartbeat: book.heartbeat() !== null,
        nowMs: clock()
      })
    },
    contacts: () => book.contacts().map((contact) => contactViewOf(contact, office.wayHealth)),
    addContact: async (entry) => {
      const { contact, newSecrets } = contactFrom(entry, null)
      await book.putContacts([...book.contacts(), contact])
      return contactViewOf(contact, office.wayHealth, newSecrets)
    },
    changeContact: async (id, entry) => {
      const before = book.contacts().find((one) => one.id === id)
      if (before === undefined) return null
      const { contact, newSecrets } = contactFrom(entry, before)
      await book.putContacts(book.contacts().map((one) => (one.id === id ? contact : one)))
      return contactViewOf(contact, office.wayHealth, newSecrets)
    },
    removeContact: async (id) => {
      const left = book.contacts().filter((one) => one.id !== id)
      if (left.length === book.contacts().length) return false
      await book.putContacts(left)
      if (book.holiday()?.friendId === id) await book.putHoliday(null)
      return true
    },
    messages: async ({ tankId, alarmId, fromMs, limit }) => {
      const found = await record.messages({
        ...(tankId === undefined ? {} : { tankId }),
        ...(alarmId === undefined ? {} : { activationId: alarmId }),
        ...(fromMs === undefined ? {} : { fromMs }),
        limit
      })
      return found.map((message) => messageViewOf(message, book.contacts()))
    },
    testNow,
    holiday: () => {
      const holiday = book.holiday()
      if (holiday === null) return null
      const { card } = holiday
      return {
        ...holiday,
        card: { ...card, lookAt: [...card.lookAt] },
        isNow: isHoliday(holiday, clock()),
        cardLines: [...friendCardLines(holiday)]
      }
    },
    setHoliday: async (holiday) => {
      if (holiday !== null && !book.contacts().some(({ id }) => id === holiday.friendId)) return false
      await book.putHoliday(holiday)
      return true
    },
    heartbeat: () => {
      const heartbeat = book.heartbeat()
      const { lastOkMs, lastFault } = heart.state()
      return heartbeat === null ? null : { ...heartbeat, lastOkMs, lastFault }
    },
    setHeartbeat: async (heartbeat) => {
      await book.putHeartbeat(heartbeat)
      heart.forget()
    },
    openLink: (token) => openLink(linkPorts, token),
    useLink: (token, fromAddress) => useLink(linkPorts, token, fromAddress)
  }
}
