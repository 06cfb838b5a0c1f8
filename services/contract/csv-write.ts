import { stringify } from 'csv-stringify/sync'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import { canonicalUnit } from '../tank/quantity.ts'
import type { Reading } from '../tank/reading.ts'
import { type CsvRow, csvHeader, mainNumberOf } from './csv-columns.ts'

export type Correction = Readonly<{ atMs: number; by: string; before: ManualTest }>

/** The header line with its line end. */
export const csvHeadLine = `${csvHeader.join(',')}\r\n`

/** Rows as RFC 4180 text with CRLF; text cells cannot start a formula in a spreadsheet. */
export function csvLines(rows: readonly CsvRow[]): string {
  return stringify(
    rows.map((row) =>
      csvHeader.map((name) => (name === 'value' || name === 'time' ? row[name] : guarded(row[name])))
    ),
    { record_delimiter: 'windows' }
  )
}

const guarded = (cell: string): string => (/^[=+\-@\t\r']/.test(cell) ? `'${cell}` : cell)
const empty: CsvRow = {
  time: '',
  kind: '',
  quantity: '',
  value: '',
  unit: '',
  basis: '',
  probe: '',
  flag: '',
  note: ''
}
const timeCell = (atMs: number): string => new Date(atMs).toISOString()

/** A note stays plain text; together with anything else, or where it looks like JSON, it goes into an object. */
function noteCell(more: Readonly<Record<string, unknown>>, note: string | undefined): string {
  if (Object.keys(more).length === 0 && !/^\s*\{/.test(note ?? '')) return note ?? ''
  return JSON.stringify(note === undefined ? more : { ...more, note })
}

export function readingRow(reading: Reading): CsvRow {
  return {
    ...empty,
    time: timeCell(reading.atMs),
    kind: 'reading',
    quantity: reading.quantity,
    value: String(reading.value),
    unit: canonicalUnit[reading.quantity],
    probe: reading.probe,
    flag: String(reading.flag)
  }
}

/** One row a result; what belongs to the whole test stands in its first row. */
export function testRows(test: ManualTest, corrections: readonly Correction[] = []): readonly CsvRow[] {
  return test.results.map((result, index) => {
    const earlier = corrections.flatMap((correction) =>
      correction.before.results
        .filter((was) => was.quantity === result.quantity && JSON.stringify(was) !== JSON.stringify(result))
        .map((was) => ({ at: timeCell(correction.atMs), by: correction.by, was }))
    )
    const { atLeast, atMost, dilutedTimes } = result
    const more = {
      ...(atLeast === undefined ? {} : { atLeast }),
      ...(atMost === undefined ? {} : { atMost }),
      ...(dilutedTimes === undefined ? {} : { dilutedTimes }),
      ...(earlier.length === 0 ? {} : { corrections: earlier })
    }
    return {
      ...empty,
      time: timeCell(test.takenAtMs),
      kind: 'test',
      quantity: result.quantity,
      value: String(result.value),
      unit: result.unit,
      basis: result.basis ?? '',
      note: noteCell(more, index === 0 ? test.note : undefined)
    }
  })
}

export function eventRow(event: TankEvent): CsvRow {
  const main = mainNumberOf(event.kind, event.data ?? {})
  return {
    ...empty,
    time: timeCell(event.atMs),
    kind: 'event',
    quantity: event.kind,
    value: main === null ? '' : String(main.value),
    unit: main?.unit ?? '',
    note: noteCell((main === null ? event.data : main.rest) ?? {}, event.note)
  }
}
