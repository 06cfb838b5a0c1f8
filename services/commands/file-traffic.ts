import type { CsvRow } from '../contract/csv-columns.ts'
import { type CsvContent, type RowFault, readCsv } from '../contract/csv-read.ts'
import { csvHeadLine, csvLines, eventRow, readingRow, testRows } from '../contract/csv-write.ts'
import { HouseError } from '../errors.ts'
import { flagOnArrival } from '../intake/quality-flag.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { ImportAnswer, ReadingToStore, TankRecord } from '../tank/record.ts'
import type { ReplayRow } from '../tank/replay-row.ts'

const sliceMs = 6 * 3_600_000
const farFuture = 4_102_444_800_000

/** A tank's readings, tests and events as CSV, in time order, in slices that fit in memory. */
export async function* exportCsv(
  record: TankRecord,
  ask: Readonly<{ tankId: string; fromMs?: number; toMs?: number }>
): AsyncGenerator<string> {
  const span = { tankId: ask.tankId, fromMs: ask.fromMs ?? 0, toMs: ask.toMs ?? farFuture }
  const entries = await entryRows(record, span)
  yield csvHeadLine
  let sent = 0
  for await (const readings of readingSlices(record, span)) {
    const rows: CsvRow[] = []
    for (const reading of readings) {
      while (sent < entries.length && (entries[sent]?.atMs ?? farFuture) <= reading.atMs)
        rows.push(...(entries[sent++]?.rows ?? []))
      rows.push(readingRow(reading))
    }
    yield csvLines(rows)
  }
  const rest = entries.slice(sent).flatMap((entry) => entry.rows)
  if (rest.length > 0) yield csvLines(rest)
}

type Span = Readonly<{ tankId: string; fromMs: number; toMs: number }>

async function entryRows(
  record: TankRecord,
  span: Span
): Promise<readonly Readonly<{ atMs: number; rows: readonly CsvRow[] }>[]> {
  const tests = await record.tests(span)
  const events = await record.events(span)
  const rows = await Promise.all(
    tests.map(async (test) => ({
      atMs: test.takenAtMs,
      rows: testRows(test, await correctionsOf(record, span, test))
    }))
  )
  return [...rows, ...events.map((event) => ({ atMs: event.atMs, rows: [eventRow(event)] }))].toSorted(
    (a, b) => a.atMs - b.atMs
  )
}

async function correctionsOf(record: TankRecord, span: Span, test: ManualTest) {
  if (test.amended !== true) return []
  const amendments = await record.amendments({ tankId: span.tankId, id: test.id })
  return amendments.flatMap(({ atMs, by, before }) => ('results' in before ? [{ atMs, by, before }] : []))
}

/** Slices of a fixed time, skipping stretches without a reading. */
async function* readingSlices(record: TankRecord, span: Span) {
  let afterMs = span.fromMs - 1
  for (;;) {
    const next = (await record.exportSlice({ ...span, afterMs, limit: 1 }))[0]
    if (next === undefined) return
    const toMs = Math.min(next.atMs + sliceMs, span.toMs)
    yield await record.readings({ tankId: span.tankId, fromMs: next.atMs, toMs })
    afterMs = toMs
    if (toMs >= span.toMs) return
  }
}

/** Reads a file's text for one tank; a file whose rows cannot all be used is refused whole unless `skipBad`. */
export function readFileRows(
  text: string,
  options: Readonly<{ zone?: string | undefined; skipBad?: boolean | undefined }>
): CsvContent {
  const read = readCsv(text, options.zone === undefined ? {} : { zone: options.zone })
  if ('reason' in read)
    throw new HouseError(
      read.line === 1 ? 'FILE_BAD_HEADER' : 'FILE_BAD_ROW',
      `line ${read.line}: ${read.reason}`
    )
  if (read.faults.length > 0 && options.skipBad !== true) throw badRows(read.faults)
  return read
}

function badRows(faults: readonly RowFault[]): HouseError {
  const shown = faults.slice(0, 5).map((fault) => `line ${fault.line}: ${fault.reason}`)
  const more = faults.length > shown.length ? `; and ${faults.length - shown.length} more` : ''
  return new HouseError(
    'FILE_BAD_ROW',
    `${shown.join('; ')}${more}. Nothing of the file was taken; mend the lines, or take the rest with --skip-bad`,
    { faults }
  )
}

/** Puts a file's rows into the record, all in one transaction; taking it twice changes nothing. */
export async function importRows(
  record: TankRecord,
  ask: Readonly<{ tankId: string; rows: readonly ReplayRow[]; by: string; nowMs: number }>
): Promise<ImportAnswer & Readonly<{ fromMs: number | null }>> {
  const { tankId, rows, by, nowMs } = ask
  const answer = await record.importAll({
    tankId,
    readings: rows.flatMap((row) => (row.kind === 'reading' ? [readingToStore(tankId, row, nowMs)] : [])),
    tests: rows.flatMap((row) =>
      row.kind === 'test'
        ? [{ tankId, takenAtMs: row.atMs, results: row.results, note: row.note, by, atMs: nowMs }]
        : []
    ),
    events: rows.flatMap((row) =>
      row.kind === 'event'
        ? [
            {
              tankId,
              atMs: row.atMs,
              kind: row.event,
              data: row.data,
              note: row.note,
              by,
              enteredAtMs: nowMs
            }
          ]
        : []
    )
  })
  const first = rows.reduce((least, row) => Math.min(least, row.atMs), Number.POSITIVE_INFINITY)
  return { ...answer, fromMs: Number.isFinite(first) ? first : null }
}

function readingToStore(
  tankId: string,
  row: Extract<ReplayRow, { kind: 'reading' }>,
  nowMs: number
): ReadingToStore {
  const { probe, quantity, value, atMs } = row
  return {
    tankId,
    probe,
    quantity,
    value,
    atMs,
    arrivedAtMs: nowMs,
    clock: 'device',
    ...flagOnArrival({ quantity, value })
  }
}
