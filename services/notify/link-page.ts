import type { AlarmView } from '../contract/alarm-view.ts'
import { inUnits } from '../contract/in-units.ts'
import type { LinkUse, LinkView } from '../hub/alert-port.ts'
import type { WatchDesk } from '../hub/desk-port.ts'
import type { AlarmState } from '../tank/alarm-names.ts'
import type { AckLinks } from './ack-links.ts'
import type { AddressBook } from './address-book.ts'
import { cardFor } from './friend-card.ts'
import { momentWords, oneLine, type Wording } from './message-text.ts'

export type LinkPorts = Readonly<{
  links: AckLinks
  desk: Pick<WatchDesk, 'act'>
  look: (
    ask: Readonly<{ tankId: string; activationId: string; madeAtMs: number }>
  ) => Promise<AlarmView | null>
  tankName: (tankId: string) => string
  book: Pick<AddressBook, 'contacts' | 'holiday'>
  wording: () => Promise<Wording>
  clock: () => number
}>

const waits: readonly AlarmState[] = ['unacknowledged', 'returned-unacknowledged', 'latched-unacknowledged']

/** What stands behind a link. Looking changes nothing: mail scanners look at every link. */
export async function openLink(ports: LinkPorts, token: string): Promise<LinkView | null> {
  const link = await ports.links.find(token)
  if (link === null) return null
  const alarm = await ports.look(link)
  const contact = ports.book.contacts().find(({ id }) => id === link.contactId)
  if (alarm === null || contact === undefined) return null
  const nowMs = ports.clock()
  const wording = await ports.wording()
  const moment = (atMs: number): string => momentWords(atMs, { timeZone: contact.timeZone, wording, nowMs })
  const say = (text: string): string => inUnits(text, wording)
  const isOpen = link.usedAtMs === null && nowMs < link.expiresAtMs
  return {
    state: isOpen
      ? waits.includes(alarm.state)
        ? 'open'
        : 'seen'
      : link.usedAtMs === null
        ? 'expired'
        : 'used',
    tankName: oneLine(ports.tankName(link.tankId), 60),
    what: say(alarm.words.what),
    sinceWords: moment(alarm.raisedAtMs),
    doNow: alarm.words.doNow.map(say),
    doNot: alarm.words.doNot.map(say),
    caution: say(alarm.words.caution),
    cardLines: cardFor(ports.book.holiday(), contact.id, nowMs),
    acknowledged:
      alarm.acknowledgedAtMs === null || alarm.acknowledgedBy === null
        ? null
        : `${alarm.acknowledgedBy}, ${moment(alarm.acknowledgedAtMs)}`
  }
}

/** Acknowledges the alarm of a link, once. It is used up first: a link that failed halfway is worth nothing. */
export async function useLink(ports: LinkPorts, token: string, fromAddress: string): Promise<LinkUse> {
  const link = await ports.links.find(token)
  const contact = ports.book.contacts().find(({ id }) => id === link?.contactId)
  if (link === null || contact === undefined) return 'unknown'
  const atMs = ports.clock()
  if (link.usedAtMs !== null) return 'used'
  if (atMs >= link.expiresAtMs) return 'expired'
  if (!(await ports.links.use(token, { atMs, from: fromAddress }))) return 'used'
  const by = `${oneLine(contact.name, 60)} (link in a message, from ${fromAddress})`
  const outcome = await ports.desk.act({ id: link.activationId, action: 'acknowledge', by })
  return outcome === 'done' ? 'done' : 'wrong-state'
}
