import { randomBytes } from 'node:crypto'
import type { ContactEntry, ContactView, WayEntry } from '../contract/alert-entry.ts'
import type { Contact, Way } from './contact.ts'
import { outcomeWords } from './outcome-words.ts'
import type { WayHealth } from './post-office.ts'

export const newShortId = (): string => randomBytes(9).toString('base64url')

type Taken = Readonly<{ contact: Contact; newSecrets: Readonly<Record<string, string>> }>

/** A contact from what was entered. A way that is known by its id keeps the secrets that were left out. */
export function contactFrom(entry: ContactEntry, before: Contact | null): Taken {
  const newSecrets: Record<string, string> = {}
  const ways = entry.ways.flatMap((way) => {
    const known = before?.ways.find((one) => one.id === way.id && one.kind === way.kind) ?? null
    const made = wayFrom(way, known)
    if (made?.kind === 'webhook' && way.kind === 'webhook' && way.secret === undefined && known === null)
      newSecrets[made.id] = made.secret
    return made ?? []
  })
  return {
    contact: {
      id: before?.id ?? newShortId(),
      name: entry.name,
      timeZone: entry.timeZone,
      quietHours: entry.quietHours,
      afterMinutes: entry.afterMinutes,
      leastPriority: entry.leastPriority,
      digestAt: entry.digestAt,
      tanks: entry.tanks,
      ways
    },
    newSecrets
  }
}

/** Null where a browser's subscription was neither given nor known. */
function wayFrom(entry: WayEntry, known: Way | null): Way | null {
  const id = known?.id ?? newShortId()
  const shared = { id, label: entry.label }
  switch (entry.kind) {
    case 'email':
      return { ...shared, kind: 'email', address: entry.address }
    case 'post': {
      const { url, contentType, template, allowPrivate } = entry
      const headers = entry.headers ?? (known?.kind === 'post' && known.url === url ? known.headers : {})
      return { ...shared, kind: 'post', url, headers, contentType, template, allowPrivate }
    }
    case 'webhook': {
      const { url, allowPrivate } = entry
      const secret =
        entry.secret ?? (known?.kind === 'webhook' ? known.secret : randomBytes(24).toString('base64url'))
      return { ...shared, kind: 'webhook', url, secret, allowPrivate }
    }
    case 'push': {
      const subscription = entry.subscription ?? (known?.kind === 'push' ? known.subscription : null)
      if (subscription === null) return null
      return { ...shared, kind: 'push', subscription, allowPrivate: entry.allowPrivate }
    }
  }
}

/** A contact as it is shown: without secrets, header values and subscription keys. */
export function contactViewOf(
  contact: Contact,
  healthOf: (wayId: string) => WayHealth,
  newSecrets: Readonly<Record<string, string>> = {}
): ContactView {
  const { ways, tanks, ...rest } = contact
  return {
    ...rest,
    ...(tanks === undefined ? {} : { tanks: [...tanks] }),
    ways: ways.map((way) => ({
      id: way.id,
      kind: way.kind,
      ...(way.label === undefined ? {} : { label: way.label }),
      ...shownOf(way),
      ...shownHealth(healthOf(way.id))
    })),
    ...(Object.keys(newSecrets).length === 0 ? {} : { newSecrets })
  }
}

const shownHealth = ({
  trouble,
  lastDeliveredMs
}: WayHealth): Pick<ContactView['ways'][number], 'trouble' | 'lastDeliveredMs'> => ({
  trouble:
    trouble === null
      ? null
      : { ...trouble, words: outcomeWords({ outcome: trouble.outcome, because: trouble.because }) },
  lastDeliveredMs
})

/** How a way is called where only a line of room is. */
export function wayWords(way: Way): string {
  if (way.label !== undefined && way.label !== '') return way.label
  const { address, url } = shownOf(way)
  return way.kind === 'push' ? `a browser, through ${url}` : (address ?? url ?? way.kind)
}

function shownOf(way: Way): Partial<ContactView['ways'][number]> {
  switch (way.kind) {
    case 'email':
      return { address: way.address }
    case 'post': {
      const { url, contentType, template, allowPrivate } = way
      return { url, contentType, template, allowPrivate, headerNames: Object.keys(way.headers) }
    }
    case 'webhook':
      return { url: way.url, allowPrivate: way.allowPrivate }
    case 'push':
      // The rest of the address is a secret of that browser.
      return { url: new URL(way.subscription.endpoint).origin, allowPrivate: way.allowPrivate }
  }
}
