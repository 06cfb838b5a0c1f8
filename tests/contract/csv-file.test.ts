import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readCsv } from '../../services/contract/csv-read.ts'
import { csvHeadLine, csvLines, eventRow, readingRow, testRows } from '../../services/contract/csv-write.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { Reading } from '../../services/tank/reading.ts'

const contentOf = (text: string, options: { zone?: string } = {}) => {
  const read = readCsv(text, options)
  if ('reason' in read) throw new Error(`line ${read.line}: ${read.reason}`)
  return read
}
const file = (...lines: string[]) => `${csvHeadLine}${lines.join('\r\n')}\r\n`

test('what is written is read back the same, note and formula-like names included', () => {
  const note = fc.option(
    fc.string({ minLength: 1, maxLength: 40 }).filter((text) => text.trim() !== ''),
    { nil: undefined }
  )
  const atMs = fc.integer({ min: 1_600_000_000_000, max: 1_900_000_000_000 })
  const event: fc.Arbitrary<TankEvent> = fc.oneof(
    fc.record({
      id: fc.constant('e'),
      atMs,
      kind: fc.constant('water-changed' as const),
      data: fc.record({
        fraction: fc.integer({ min: 1, max: 100 }).map((percent) => percent / 100),
        conditioner: fc.boolean()
      }),
      note
    }),
    fc.record({
      id: fc.constant('e'),
      atMs,
      kind: fc.constant('dosed' as const),
      data: fc.record({
        substance: fc.constantFrom('ammonium chloride', '=SUM(A1)', '-x'),
        amount: fc.double({ min: 0.001, max: 500, noNaN: true }),
        unit: fc.constantFrom('g', 'mL')
      }),
      note
    }),
    fc.record({
      id: fc.constant('e'),
      atMs,
      kind: fc.constant('fish-added' as const),
      data: fc.record({ speciesId: fc.constant('puntius-titteya'), count: fc.integer({ min: 1, max: 40 }) }),
      note
    }),
    fc.record({ id: fc.constant('e'), atMs, kind: fc.constant('note' as const), note })
  )
  fc.assert(
    fc.property(event, (given) => {
      const row = contentOf(csvHeadLine + csvLines([eventRow(given)])).rows[0]
      expect(row).toMatchObject({ kind: 'event', atMs: given.atMs, event: given.kind })
      if (row?.kind !== 'event') throw new Error('no event came back')
      expect(row.data).toEqual(given.data)
      expect(row.note).toBe(given.note)
    })
  )
})

test('a test of several results is one test again, with its qualifiers and its note', () => {
  const given: ManualTest = {
    id: 't',
    takenAtMs: 1_795_000_000_123,
    results: [
      { quantity: 'ammonia', value: 0.5, unit: 'mg/L', basis: 'NH4', dilutedTimes: 2 },
      { quantity: 'nitrite', value: 1, unit: 'mg/L', basis: 'NO2', atLeast: true },
      { quantity: 'ph', value: 7.4, unit: 'pH' }
    ],
    note: '{odd, "quoted"\nnote'
  }
  const row = contentOf(csvHeadLine + csvLines(testRows(given))).rows
  expect(row).toHaveLength(1)
  expect(row[0]).toMatchObject({
    kind: 'test',
    atMs: given.takenAtMs,
    results: given.results,
    note: given.note
  })
})

test('a reading keeps its value to the last digit and its time to the millisecond', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -100, max: 100, noNaN: true }),
      fc.integer({ min: 1e12, max: 2e12 }),
      (value, atMs) => {
        const reading: Reading = {
          tankId: 'kitchen',
          probe: '-t1',
          quantity: 'temperature',
          value,
          atMs,
          arrivedAtMs: atMs,
          clock: 'device',
          flag: 1
        }
        const row = contentOf(csvHeadLine + csvLines([readingRow(reading)])).rows[0]
        expect(row).toMatchObject({ kind: 'reading', atMs, probe: '-t1', quantity: 'temperature' })
        // A negative zero is written as 0: the sign of nothing is nothing.
        expect(row?.kind === 'reading' ? row.value + 0 : null).toBe(value + 0)
      }
    )
  )
})

test('text cells cannot start a formula, numbers stay numbers', () => {
  const line = csvLines([eventRow({ id: 'e', atMs: 0, kind: 'note', note: '=HYPERLINK("http://x")' })])
  expect(line).toContain('"\'=HYPERLINK')
  const cold: Reading = {
    tankId: 'k',
    probe: 't',
    quantity: 'temperature',
    value: -127,
    atMs: 0,
    arrivedAtMs: 0,
    clock: 'device',
    flag: 4
  }
  expect(csvLines([readingRow(cold)])).toContain(',-127,')
})

test.each([
  ['a time without offset', '2026-11-25T07:30:00,reading,temperature,24.5,Cel,,t1,,', 'offset'],
  ['a day that does not exist', '2026-02-30T07:30:00Z,reading,temperature,24.5,Cel,,t1,,', 'offset'],
  ['a decimal comma', '2026-11-25T07:30:00Z,reading,temperature,"24,5",Cel,,t1,,', 'decimal point'],
  ['an unknown quantity', '2026-11-25T07:30:00Z,reading,salt,24,Cel,,t1,,', 'not one we keep'],
  ['a unit that does not fit', '2026-11-25T07:30:00Z,reading,temperature,24,pH,,t1,,', 'unit'],
  ['a reading without value', '2026-11-25T07:30:00Z,reading,temperature,,Cel,,t1,,', 'needs a value'],
  ['a basis that does not fit', '2026-11-25T07:30:00Z,test,nitrite,1,mg/L,NH4,,,', 'basis'],
  ['a water change in grams', '2026-11-25T07:30:00Z,event,water-changed,25,g,,,,', 'unit'],
  ['a water change of 250 percent', '2026-11-25T07:30:00Z,event,water-changed,250,%,,,,', 'fraction'],
  ['too few cells', '2026-11-25T07:30:00Z,reading,temperature', 'cells'],
  ['Infinity', '2026-11-25T07:30:00Z,reading,temperature,1e309,Cel,,t1,,', 'number']
])('%s is named by its line and reason, and the good row beside it is still read', (_name, bad, reason) => {
  const read = contentOf(file('2026-11-25T07:00:00Z,reading,temperature,24.5,Cel,,t1,1,', bad))
  expect(read.rows).toHaveLength(1)
  expect(read.faults).toEqual([{ line: 3, reason: expect.stringContaining(reason) }])
})

test('a local time is taken once a zone is named, over the change of clocks too', () => {
  const line = (time: string) => file(`${time},reading,temperature,24.5,Cel,,t1,,`)
  expect(contentOf(line('2026-03-29T01:30:00'), { zone: 'Europe/Vienna' }).rows[0]?.atMs).toBe(
    Date.UTC(2026, 2, 29, 0, 30)
  )
  expect(contentOf(line('2026-03-29T03:30:00'), { zone: 'Europe/Vienna' }).rows[0]?.atMs).toBe(
    Date.UTC(2026, 2, 29, 1, 30)
  )
})

test('a wrong header and a broken quote are refused with the line that is wrong', () => {
  expect(readCsv('time,temp\r\n')).toMatchObject({
    line: 1,
    reason: expect.stringContaining('time,kind,quantity')
  })
  expect(readCsv(file('2026-11-25T07:00:00Z,event,note,,,,,,"never closed'))).toMatchObject({
    reason: expect.stringContaining('quotes')
  })
})

test('bare line feeds and a byte order mark are taken as well', () => {
  const text = `\uFEFF${csvHeadLine}2026-11-25T07:00:00Z,reading,temperature,76.1,degF,,t1,,\n`.replaceAll(
    '\r',
    ''
  )
  const row = contentOf(text).rows[0]
  expect(row?.kind === 'reading' ? row.value : null).toBeCloseTo(24.5, 10)
})

test('no text makes the reader crash', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 300 }), (text) => {
      const read = readCsv(csvHeadLine + text)
      expect('reason' in read || Array.isArray(read.rows)).toBe(true)
    })
  )
})
