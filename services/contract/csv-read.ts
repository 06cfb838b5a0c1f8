import { parse } from 'csv-parse/sync'
import { DateTime } from 'luxon'
import { type EventData, type EventKind, eventKinds } from '../tank/event.ts'
import type { TestResult } from '../tank/manual-test.ts'
import { canonicalValue, isQuantity, unitsOf } from '../tank/quantity.ts'
import type { ReplayRow } from '../tank/replay-row.ts'
import { csvHeader, withMainNumber } from './csv-columns.ts'
import { faultsOfEventData } from './event-entry.ts'
import { testResult } from './test-entry.ts'
import { momentOf } from './time-of.ts'

export type RowFault = Readonly<{ line: number; reason: string }>
export type CsvContent = Readonly<{ rows: readonly ReplayRow[]; faults: readonly RowFault[] }>
/** What the parser gives with `info`: its types do not know that option. */
type Line = Readonly<{ record: string[]; info: { lines: number } }>
type Cells = Record<(typeof csvHeader)[number], string>

const probeName = /^[A-Za-z0-9._-]{1,64}$/
const numberText = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/

/**
 * Reads a file of readings, tests and events. Every bad row is named by its line and reason; whether the good
 * ones are then taken is the caller's decision. Times without offset need `zone` (IANA name).
 */
export function readCsv(text: string, options: Readonly<{ zone?: string }> = {}): CsvContent | RowFault {
  let records: readonly Line[]
  try {
    records = text.includes('"') ? quotedLines(text) : plainLines(text)
  } catch (cause) {
    const line = cause instanceof Error && 'lines' in cause ? Number(cause.lines) : 1
    return {
      line,
      reason: `the quotes of this line do not close or stand in the wrong place (RFC 4180): ${messageOf(cause)}`
    }
  }
  const head = records[0]
  if (head === undefined || head.record.map((cell) => cell.trim()).join(',') !== csvHeader.join(','))
    return { line: 1, reason: `the first line must be: ${csvHeader.join(',')}` }
  const rows: ReplayRow[] = []
  const faults: RowFault[] = []
  for (const { record, info } of records.slice(1)) {
    const read = readRow(record, info.lines, options.zone)
    if ('reason' in read) faults.push(read)
    else addRow(rows, read)
  }
  return { rows, faults }
}

const quotedLines = (text: string): readonly Line[] =>
  parse(text, {
    bom: true,
    info: true,
    relax_column_count: true,
    skip_empty_lines: true
  }) as unknown as readonly Line[]

/** A month of readings holds no quotes: then a line is a row and a comma parts two cells, which is read far faster. */
function plainLines(text: string): readonly Line[] {
  const lines: Line[] = []
  let number = 0
  for (const line of text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/)) {
    number += 1
    if (line !== '') lines.push({ record: line.split(','), info: { lines: number } })
  }
  return lines
}

const messageOf = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause))

/** Results of one test stand in rows of the same time, next to each other, each quantity once. */
function addRow(rows: ReplayRow[], row: ReplayRow): void {
  const last = rows.at(-1)
  const result = row.kind === 'test' ? row.results[0] : undefined
  const joins =
    row.kind === 'test' &&
    last?.kind === 'test' &&
    last.atMs === row.atMs &&
    row.note === undefined &&
    result !== undefined &&
    !last.results.some((one) => one.quantity === result.quantity)
  if (!joins) rows.push(row)
  else rows[rows.length - 1] = { ...last, results: [...last.results, result] }
}

function readRow(record: readonly string[], line: number, zone: string | undefined): ReplayRow | RowFault {
  const fault = (reason: string): RowFault => ({ line, reason })
  if (record.length !== csvHeader.length)
    return fault(`it has ${record.length} cells, the header has ${csvHeader.length}`)
  const cell = (at: number): string => unguarded(record[at] ?? '')
  const cells: Cells = {
    time: cell(0),
    kind: cell(1),
    quantity: cell(2),
    value: cell(3),
    unit: cell(4),
    basis: cell(5),
    probe: cell(6),
    flag: cell(7),
    note: cell(8)
  }
  const atMs = timeOfCell(cells.time, zone)
  if (typeof atMs === 'string') return fault(atMs)
  const kind = cells.kind
  const value = cells.value === '' ? null : numberText.test(cells.value) ? Number(cells.value) : Number.NaN
  if (value !== null && !Number.isFinite(value))
    return fault(`value "${cells.value.slice(0, 40)}" is not a number with a decimal point`)
  const more = moreOf(cells.note)
  if (more === null) return fault('the note starts like JSON but is not a JSON object')
  const read =
    kind === 'reading'
      ? readingOf(cells, value)
      : kind === 'test'
        ? testOf(cells, value, more)
        : kind === 'event'
          ? eventOf(cells, value, more)
          : `kind "${kind.slice(0, 40)}" is none of reading, test, event`
  return typeof read === 'string' ? fault(read) : { ...read, line, atMs }
}

type Unplaced<Row> = Row extends unknown ? Omit<Row, 'line' | 'atMs'> : never
type Body<Kind extends ReplayRow['kind']> = Unplaced<Extract<ReplayRow, { kind: Kind }>>

function readingOf(cells: Cells, value: number | null): Body<'reading'> | string {
  if (!isQuantity(cells.quantity)) return `quantity "${cells.quantity.slice(0, 40)}" is not one we keep`
  if (value === null) return 'a reading needs a value'
  if (!probeName.test(cells.probe)) return 'a reading needs the name of its probe (letters, digits, . _ -)'
  const canonical = canonicalValue(cells.quantity, value, cells.unit === '' ? undefined : cells.unit)
  if (canonical === null)
    return `the unit of ${cells.quantity} is ${unitsOf(cells.quantity).join(' or ')}, not "${cells.unit.slice(0, 20)}"`
  return { kind: 'reading', probe: cells.probe, quantity: cells.quantity, value: canonical }
}

function testOf(cells: Cells, value: number | null, more: More): Body<'test'> | string {
  if (value === null) return 'a test needs a value'
  const { corrections: _information, ...qualifiers } = more.rest
  const parsed = testResult.safeParse({
    quantity: cells.quantity,
    value,
    unit: cells.unit,
    ...(cells.basis === '' ? {} : { basis: cells.basis }),
    ...qualifiers
  })
  if (!parsed.success)
    return parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('; ')
  const result: TestResult = parsed.data
  return { kind: 'test', results: [result], ...(more.note === undefined ? {} : { note: more.note }) }
}

function eventOf(cells: Cells, value: number | null, more: More): Body<'event'> | string {
  const event = eventKinds.find((kind) => kind === cells.quantity)
  if (event === undefined) return `event "${cells.quantity.slice(0, 40)}" is not one we know`
  const data =
    value === null ? (more.rest as EventData) : withMainNumber(event, { value, unit: cells.unit }, more.rest)
  if (typeof data === 'string') return data
  const faults = faultsOfEventData(event as EventKind, data)
  if (faults.length > 0) return faults.join('; ')
  const filled = Object.keys(data).length > 0 ? { data } : {}
  return { kind: 'event', event, ...filled, ...(more.note === undefined ? {} : { note: more.note }) }
}

type More = Readonly<{ rest: Readonly<Record<string, unknown>>; note: string | undefined }>
function moreOf(cell: string): More | null {
  if (cell === '') return { rest: {}, note: undefined }
  if (!/^\s*\{/.test(cell)) return { rest: {}, note: cell }
  try {
    const parsed: unknown = JSON.parse(cell)
    if (typeof parsed !== 'object' || parsed === null || Array.isArray(parsed)) return null
    const { note, ...rest } = parsed as Record<string, unknown>
    return { rest, note: typeof note === 'string' ? note : undefined }
  } catch {
    return null
  }
}

const unguarded = (cell: string): string =>
  cell.startsWith("'") && /^'[=+\-@\t\r']/.test(cell) ? cell.slice(1) : cell

function timeOfCell(cell: string, zone: string | undefined): number | string {
  const atMs = momentOf(cell)
  if (atMs !== null) return atMs
  const local = zone === undefined ? null : DateTime.fromISO(cell, { zone })
  if (local?.isValid === true) return local.toMillis()
  return zone === undefined
    ? `time "${cell.slice(0, 40)}" is not ISO 8601 with an offset, such as 2026-11-25T07:30:00+01:00 (or name a zone)`
    : `time "${cell.slice(0, 40)}" is not ISO 8601`
}
