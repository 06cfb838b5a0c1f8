import type { EventData, EventKind } from '../tank/event.ts'

/** The header line of every file the house writes and reads. */
export const csvHeader = [
  'time',
  'kind',
  'quantity',
  'value',
  'unit',
  'basis',
  'probe',
  'flag',
  'note'
] as const

/** One row as text, in the order of the header. */
export type CsvRow = Readonly<Record<(typeof csvHeader)[number], string>>

type MainNumber = Readonly<{ value: number; unit: string; rest: EventData }>
type NumberField = 'count' | 'grams' | 'pinches' | 'fraction' | 'litres' | 'amount' | 'minutes'
type Column = Readonly<{ field: NumberField; unit: string; factor: number }>
const column = (field: NumberField, unit: string, factor = 1): Column => ({ field, unit, factor })

/** Which number of an event stands in the value column, and under which unit. */
const columnsOf: Partial<Record<EventKind, readonly Column[]>> = {
  'fish-added': [column('count', '')],
  'fish-removed': [column('count', '')],
  'fish-died': [column('count', '')],
  fed: [column('grams', 'g'), column('pinches', 'pinch')],
  'water-changed': [column('fraction', '%', 100), column('litres', 'L')],
  'topped-up': [column('litres', 'L')],
  'filter-stopped': [column('minutes', 'min')],
  'maintenance-started': [column('minutes', 'min')]
}

/** Kinds whose amount carries its own unit. */
const withOwnUnit: readonly EventKind[] = ['dosed', 'conditioner-added', 'medicated', 'heater-changed']

/** Splits an event's data into the number for the value column and the rest; null where it has no such number. */
export function mainNumberOf(kind: EventKind, data: EventData): MainNumber | null {
  if (withOwnUnit.includes(kind) && data.amount !== undefined) {
    const { amount, unit, ...rest } = data
    return { value: amount, unit: unit ?? '', rest }
  }
  for (const { field, unit, factor } of columnsOf[kind] ?? []) {
    const value = data[field]
    if (value === undefined) continue
    const rest: Record<string, unknown> = { ...data }
    delete rest[field]
    return { value: scaled(value, factor), unit, rest: rest as EventData }
  }
  return null
}

/** Puts the value column back into an event's data; answers a reason where the unit does not fit. */
export function withMainNumber(
  kind: EventKind,
  cell: Readonly<{ value: number; unit: string }>,
  rest: EventData
): EventData | string {
  if (withOwnUnit.includes(kind))
    return { ...rest, amount: cell.value, ...(cell.unit === '' ? {} : { unit: cell.unit }) }
  const columns = columnsOf[kind]
  if (columns === undefined) return `an event "${kind}" has no number, so leave its value empty`
  const fit = columns.find((one) => one.unit === cell.unit)
  if (fit === undefined)
    return `the unit of "${kind}" is ${columns.map((one) => `"${one.unit}"`).join(' or ')}, not "${cell.unit}"`
  return { ...rest, [fit.field]: cell.value / fit.factor }
}

/** 0.07 times 100 is 7, not 7.000000000000001: percent cells are read by people. */
const scaled = (value: number, factor: number): number =>
  factor === 1 ? value : Number((value * factor).toPrecision(12))
