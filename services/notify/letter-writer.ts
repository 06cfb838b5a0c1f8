import type { AlarmView } from '../contract/alarm-view.ts'
import type { OutboxMessage } from '../tank/message.ts'
import type { AckLinks } from './ack-links.ts'
import type { Contact, Holiday } from './contact.ts'
import { cardFor } from './friend-card.ts'
import type { Letter } from './letter.ts'
import { fullText, oneLine, shortLength, shortText, titleText, type Wording } from './message-text.ts'

export type WriterPorts = Readonly<{
  links: AckLinks
  tankName: (tankId: string) => string
  wording: () => Promise<Wording>
  holiday: () => Holiday | null
  clock: () => number
}>

/** Puts a message into words, as things stand at the moment it is sent. */
export function makeLetterWriter(ports: WriterPorts) {
  return async (
    ask: Readonly<{ message: OutboxMessage; contact: Contact; alarm: AlarmView | null }>
  ): Promise<Letter> => {
    const { message, contact, alarm } = ask
    const nowMs = ports.clock()
    const tankName = message.tankId === null ? '' : ports.tankName(message.tankId)
    const letter = {
      id: message.id,
      sort: message.sort,
      atMs: message.madeAtMs,
      priority: alarm?.priority ?? message.priority,
      tankId: message.tankId,
      tankName,
      alarm
    }
    if (alarm === null) {
      const text = message.text ?? ''
      const title = message.title ?? ''
      return { ...letter, title, short: oneLine(`${title}: ${text}`, shortLength), full: text, link: null }
    }
    const link = await ports.links.make(message)
    const scene = { alarm, tankName, timeZone: contact.timeZone, wording: await ports.wording(), nowMs }
    return {
      ...letter,
      title: titleText(scene),
      short: shortText(scene),
      full: fullText(scene, link, cardFor(ports.holiday(), contact.id, nowMs)),
      link
    }
  }
}

/** The letter of a trial. */
export const trialLetter = (ask: Readonly<{ id: string; nowMs: number; contactName: string }>): Letter => ({
  id: ask.id,
  sort: 'test',
  atMs: ask.nowMs,
  priority: 'low',
  title: 'Trial: your watch can reach you',
  short: `Trial for ${oneLine(ask.contactName, 40)}: if you read this, alarms reach you this way. Nothing is wrong.`,
  full: `This is a trial for ${oneLine(ask.contactName, 40)}.\n\nIf you read this, alarms reach you this way. Nothing is wrong with any tank.\n\nTry it again once a month, and after every change of network, mail or telephone.\n`,
  link: null,
  tankId: null,
  tankName: '',
  alarm: null
})
