import type { AlarmView } from '../contract/alarm-view.ts'
import type { Priority } from '../tank/alarm-names.ts'
import type { MessageSort } from '../tank/message.ts'
import type { Way } from './contact.ts'
import type { SendOutcome } from './judge-message.ts'

/** A message in words, ready for any way. */
export type Letter = Readonly<{
  /** The same for every try, so that a receiver can know a repeat. */
  id: string
  sort: MessageSort
  atMs: number
  priority: Priority
  title: string
  /** At most 120 characters. */
  short: string
  full: string
  /** Opens the page that acknowledges; null where this watch has no address that others reach. */
  link: string | null
  tankId: string | null
  tankName: string
  alarm: AlarmView | null
}>

/** Sends one letter by one way. Never throws: whatever happens is an outcome. */
export type Send<Kind extends Way['kind']> = (
  letter: Letter,
  way: Extract<Way, Readonly<{ kind: Kind }>>
) => Promise<SendOutcome>
export type Senders = Readonly<{ [Kind in Way['kind']]: Send<Kind> }>

/** Sends by whichever kind of way it is. */
export function sendBy(senders: Senders, letter: Letter, way: Way): Promise<SendOutcome> {
  switch (way.kind) {
    case 'email':
      return senders.email(letter, way)
    case 'post':
      return senders.post(letter, way)
    case 'webhook':
      return senders.webhook(letter, way)
    case 'push':
      return senders.push(letter, way)
  }
}
