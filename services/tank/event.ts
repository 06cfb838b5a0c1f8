/** What happens in a keeper's day, in the words of the trade. */
export const eventKinds = [
  'fish-added',
  'fish-removed',
  'fish-died',
  'fish-look-wrong',
  'fed',
  'water-changed',
  'topped-up',
  'dosed',
  'conditioner-added',
  'medicated',
  'filter-stopped',
  'filter-started',
  'filter-cleaned',
  'plants-changed',
  'lights-changed',
  'co2-changed',
  'heater-changed',
  'probe-changed',
  'probe-cleaned',
  'maintenance-started',
  'maintenance-ended',
  'filled',
  'note'
] as const
export type EventKind = (typeof eventKinds)[number]

/** What belongs to an event beside its kind and time. Only the fields of its kind are set. */
export type EventData = Readonly<{
  speciesId?: string | undefined
  count?: number | undefined
  sizeCm?: number | undefined
  quarantined?: boolean | undefined
  reason?: string | undefined
  signs?: readonly string[] | undefined
  grams?: number | undefined
  pinches?: number | undefined
  fraction?: number | undefined
  litres?: number | undefined
  tapTempC?: number | undefined
  conditioner?: string | boolean | undefined
  treated?: boolean | undefined
  substance?: string | undefined
  amount?: number | undefined
  unit?: string | undefined
  how?: 'tank-water' | 'tap' | 'media-replaced' | undefined
  minutes?: number | undefined
}>

export type TankEvent = Readonly<{
  id: string
  atMs: number
  kind: EventKind
  data?: EventData | undefined
  note?: string | undefined
  amended?: boolean | undefined
  /** When it was written down, where that was long after its time. */
  enteredAtMs?: number | undefined
}>
