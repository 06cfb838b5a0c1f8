import { randomBytes } from 'node:crypto'
import type { TankRecord } from '../tank/record.ts'
import type { Contact, Holiday } from './contact.ts'
import { makePushKeys, type PushKeys } from './push-way.ts'

export type Heartbeat = Readonly<{ url: string; everyMinutes: number; allowPrivate: boolean }>
/** What was done when, so that a restart neither forgets nor repeats: a local date or a moment by name. */
export type LastRuns = Readonly<Record<string, string | number>>

/** What the watch knows of the people it tells; kept in the record and read once. */
export type AddressBook = Readonly<{
  contacts: () => readonly Contact[]
  putContacts: (contacts: readonly Contact[]) => Promise<void>
  holiday: () => Holiday | null
  putHoliday: (holiday: Holiday | null) => Promise<void>
  heartbeat: () => Heartbeat | null
  putHeartbeat: (heartbeat: Heartbeat | null) => Promise<void>
  lastRuns: () => LastRuns
  putLastRun: (name: string, when: string | number) => Promise<void>
  pushKeys: () => PushKeys
  /** From which the secrets in links are made; never leaves the house. */
  linkKey: () => Buffer
  /** Names this installation to receivers of events. */
  houseId: () => string
}>

const names = {
  contacts: 'alerts.contacts',
  holiday: 'alerts.holiday',
  heartbeat: 'alerts.heartbeat',
  lastRuns: 'alerts.lastRuns',
  pushKeys: 'alerts.pushKeys',
  linkKey: 'alerts.linkKey',
  houseId: 'alerts.houseId'
} as const

export async function openAddressBook(
  record: Pick<TankRecord, 'settings' | 'putSettings'>
): Promise<AddressBook> {
  const stored = await record.settings()
  let contacts = (stored[names.contacts] ?? []) as readonly Contact[]
  let holiday = (stored[names.holiday] ?? null) as Holiday | null
  let heartbeat = (stored[names.heartbeat] ?? null) as Heartbeat | null
  let lastRuns = (stored[names.lastRuns] ?? {}) as LastRuns
  const pushKeys = (stored[names.pushKeys] as PushKeys | undefined) ?? makePushKeys()
  const linkKey = (stored[names.linkKey] as string | undefined) ?? randomBytes(32).toString('base64url')
  const houseId = (stored[names.houseId] as string | undefined) ?? randomBytes(9).toString('base64url')
  if (stored[names.houseId] === undefined)
    await record.putSettings({
      [names.pushKeys]: pushKeys,
      [names.linkKey]: linkKey,
      [names.houseId]: houseId
    })
  return {
    contacts: () => contacts,
    putContacts: async (next) => {
      await record.putSettings({ [names.contacts]: next })
      contacts = next
    },
    holiday: () => holiday,
    putHoliday: async (next) => {
      await record.putSettings({ [names.holiday]: next })
      holiday = next
    },
    heartbeat: () => heartbeat,
    putHeartbeat: async (next) => {
      await record.putSettings({ [names.heartbeat]: next })
      heartbeat = next
    },
    lastRuns: () => lastRuns,
    putLastRun: async (name, when) => {
      lastRuns = { ...lastRuns, [name]: when }
      await record.putSettings({ [names.lastRuns]: lastRuns })
    },
    pushKeys: () => pushKeys,
    linkKey: () => Buffer.from(linkKey, 'base64url'),
    houseId: () => houseId
  }
}
