import type { ContactView } from '../../../services/contract/alert-entry.ts'
import type { PersonEntry, PushHere } from '../../state/told.ts'

export const wayKinds = ['email', 'push', 'post', 'webhook'] as const
export type WayKind = (typeof wayKinds)[number]
export const contentTypes = ['text/plain', 'application/json', 'application/x-www-form-urlencoded'] as const
type ContentType = (typeof contentTypes)[number]
/** One way as typed. */
export type WayDraft = Readonly<{
  /** For this page alone. */
  key: string
  id: string | null
  kind: WayKind
  label: string
  address: string
  url: string
  template: string
  contentType: ContentType
  /** A line each, `Name: value`. */
  headers: string
  /** Names of headers that are kept while nothing is typed; their values are not shown again. */
  keptHeaders: readonly string[]
  allowPrivate: boolean
  subscription: PushHere | null
}>

/** A person as typed. */
export type PersonDraft = Readonly<{
  id: string | null
  name: string
  timeZone: string
  isQuiet: boolean
  quietFrom: string
  quietTo: string
  afterMinutes: number
  leastPriority: ContactView['leastPriority']
  hasDigest: boolean
  digestAt: string
  /** Null: all of them. */
  tanks: readonly string[] | null
  ways: readonly WayDraft[]
}>

export const newPerson = (timeZone: string): PersonDraft => ({
  id: null,
  name: '',
  timeZone,
  isQuiet: true,
  quietFrom: '22:00',
  quietTo: '07:00',
  afterMinutes: 0,
  leastPriority: 'medium',
  hasDigest: false,
  digestAt: '07:30',
  tanks: null,
  ways: []
})

let count = 0
export function newWay(kind: WayKind, given: Partial<WayDraft> = {}): WayDraft {
  count += 1
  return {
    key: `new-${count}`,
    id: null,
    kind,
    label: '',
    address: '',
    url: '',
    template: '{{short}}\n{{link}}',
    contentType: 'text/plain',
    headers: '',
    keptHeaders: [],
    allowPrivate: false,
    subscription: null,
    ...given
  }
}

/** A person who is known, ready to be changed. */
export function draftOf(view: ContactView): PersonDraft {
  const usual = newPerson(view.timeZone)
  return {
    ...usual,
    id: view.id,
    name: view.name,
    isQuiet: view.quietHours !== null,
    quietFrom: view.quietHours?.from ?? usual.quietFrom,
    quietTo: view.quietHours?.to ?? usual.quietTo,
    afterMinutes: view.afterMinutes,
    leastPriority: view.leastPriority,
    hasDigest: view.digestAt !== null,
    digestAt: view.digestAt ?? usual.digestAt,
    tanks: view.tanks ?? null,
    ways: view.ways.map((way) => ({
      ...newWay(way.kind),
      key: way.id,
      id: way.id,
      label: way.label ?? '',
      address: way.address ?? '',
      url: way.url ?? '',
      template: way.template ?? '',
      contentType: contentTypes.find((type) => type === way.contentType) ?? 'text/plain',
      keptHeaders: way.headerNames ?? [],
      allowPrivate: way.allowPrivate ?? false
    }))
  }
}

/** Headers of typed lines; null where a line is none. */
export function headersOf(text: string): Readonly<Record<string, string>> | null {
  const headers: Record<string, string> = {}
  for (const line of text.split('\n').map((one) => one.trim())) {
    if (line === '') continue
    const colon = line.indexOf(':')
    if (colon < 1) return null
    headers[line.slice(0, colon).trim()] = line.slice(colon + 1).trim()
  }
  return headers
}

/** What is sent to the house. */
export function bodyOf(draft: PersonDraft): PersonEntry {
  const { tanks } = draft
  return {
    name: draft.name.trim(),
    timeZone: draft.timeZone.trim(),
    quietHours: draft.isQuiet ? { from: draft.quietFrom, to: draft.quietTo } : null,
    afterMinutes: draft.afterMinutes,
    leastPriority: draft.leastPriority,
    digestAt: draft.hasDigest ? draft.digestAt : null,
    ...(tanks === null ? {} : { tanks: [...tanks] }),
    ways: draft.ways.map(wayBodyOf)
  }
}

function wayBodyOf(way: WayDraft): Readonly<object> {
  const label = way.label.trim()
  const shared = {
    kind: way.kind,
    ...(way.id === null ? {} : { id: way.id }),
    ...(label === '' ? {} : { label })
  }
  const { allowPrivate } = way
  const url = way.url.trim()
  switch (way.kind) {
    case 'email':
      return { ...shared, address: way.address.trim() }
    case 'post': {
      const headers = headersOf(way.headers) ?? {}
      const isTyped = Object.keys(headers).length > 0
      const { contentType, template } = way
      return { ...shared, url, contentType, template, allowPrivate, ...(isTyped ? { headers } : {}) }
    }
    case 'webhook':
      return { ...shared, url, allowPrivate }
    case 'push':
      return {
        ...shared,
        allowPrivate,
        ...(way.subscription === null ? {} : { subscription: way.subscription })
      }
  }
}

/** What is still missing, by field; empty where nothing is. */
export function missingIn(
  draft: PersonDraft,
  words: Readonly<{ name: string; address: string; url: string; headers: string; subscription: string }>
): Readonly<Record<string, string>> {
  const faults: Record<string, string> = {}
  if (draft.name.trim() === '') faults.name = words.name
  draft.ways.forEach((way, index) => {
    const at = `ways.${index}`
    if (way.kind === 'email' && way.address.trim() === '') faults[`${at}.address`] = words.address
    if ((way.kind === 'post' || way.kind === 'webhook') && way.url.trim() === '')
      faults[`${at}.url`] = words.url
    if (way.kind === 'post' && headersOf(way.headers) === null) faults[`${at}.headers`] = words.headers
    if (way.kind === 'push' && way.subscription === null && way.id === null)
      faults[`${at}.subscription`] = words.subscription
  })
  return faults
}
