import type { EventView } from '../../../services/contract/event-entry.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { speciesWords } from '../../words/species-name.ts'
import { shortDigitsOf, showVolume } from '../../words/units.ts'

export type EventName = EventView['kind']
export const dailyEvents = [
  'fed',
  'water-changed',
  'fish-added',
  'fish-died',
  'topped-up',
  'dosed',
  'note'
] as const satisfies readonly EventName[]
export const otherEvents = [
  'conditioner-added',
  'fish-removed',
  'fish-look-wrong',
  'filter-cleaned',
  'filter-stopped',
  'filter-started',
  'plants-changed',
  'lights-changed',
  'co2-changed',
  'heater-changed',
  'medicated',
  'probe-cleaned',
  'probe-changed',
  'maintenance-started',
  'maintenance-ended',
  'filled'
] as const satisfies readonly EventName[]

/** Data of an event as it is gathered; the form sets only what belongs to its kind. */
export type EventDraft = Readonly<Record<string, unknown>>

/** What a kind begins with: the most common answer, so that a touch less is needed. */
export function firstDraft(kind: EventName, species: readonly string[]): EventDraft {
  const speciesId = species[0]
  switch (kind) {
    case 'fish-added':
    case 'fish-died':
    case 'fish-removed':
      return { count: 1, ...(speciesId === undefined ? {} : { speciesId }) }
    case 'maintenance-started':
      return { minutes: 30 }
    default:
      return {}
  }
}

const needed: Readonly<Partial<Record<EventName, readonly (readonly string[])[]>>> = {
  'fish-added': [['speciesId'], ['count']],
  'fish-died': [['speciesId'], ['count']],
  'fish-removed': [['speciesId'], ['count']],
  'fish-look-wrong': [['signs']],
  'water-changed': [['fraction', 'litres'], ['conditioner']],
  'topped-up': [['litres']],
  dosed: [['substance'], ['amount'], ['unit']],
  medicated: [['substance']],
  'filter-cleaned': [['how']],
  'maintenance-started': [['minutes']]
}

/** Whether everything that gives the event its meaning is there. */
export function isComplete(kind: EventName, draft: EventDraft, note: string): boolean {
  if (kind === 'note') return note.trim() !== ''
  return (needed[kind] ?? []).every((anyOf) => anyOf.some((name) => isGiven(draft[name])))
}
const isGiven = (value: unknown): boolean =>
  value !== undefined && value !== null && value !== '' && !(Array.isArray(value) && value.length === 0)

const signWords: Readonly<Record<string, string>> = { ...say.diary.signsList, ...say.diary.signsAnswered }

/** "Water changed 25 %", "Fish added: 6 Puntius titteya", for the toast and the list. */
export function eventWords(kind: EventName, data: EventDraft | undefined, reader: Reader): string {
  const name = say.diary.kinds[kind]
  const more = data === undefined ? '' : dataWords(data, reader)
  return more === '' ? name : `${name}: ${more}`
}

function dataWords(data: EventDraft, reader: Reader): string {
  const number = (key: string): number | null => (typeof data[key] === 'number' ? data[key] : null)
  const text = (key: string): string => (typeof data[key] === 'string' ? data[key] : '')
  const parts: string[] = []
  const count = number('count')
  const species = text('speciesId')
  if (species !== '') parts.push(`${count ?? ''} ${speciesWords(species)}`.trim())
  const fraction = number('fraction')
  if (fraction !== null) parts.push(say.diary.fraction(Math.round(fraction * 100)))
  const litres = number('litres')
  if (litres !== null) {
    const { digits, unit } = showVolume(litres, reader)
    parts.push(`${digits} ${unit}`)
  }
  const substance = text('substance')
  if (substance !== '')
    parts.push((say.diary.substances as Readonly<Record<string, string>>)[substance] ?? substance)
  const amount = number('amount')
  if (amount !== null) parts.push(`${shortDigitsOf(amount, 2, reader)} ${text('unit')}`.trim())
  const pinches = number('pinches')
  if (pinches !== null) parts.push(say.diary.pinchesWords(pinches))
  const minutes = number('minutes')
  if (minutes !== null) parts.push(say.diary.minutes(minutes))
  const how = text('how')
  if (how !== '') parts.push((say.diary.cleaned as Readonly<Record<string, string>>)[how] ?? how)
  if (Array.isArray(data.signs))
    parts.push(data.signs.map((sign) => signWords[String(sign)] ?? String(sign)).join(', '))
  if (text('reason') !== '') parts.push(text('reason'))
  return parts.join(', ')
}
