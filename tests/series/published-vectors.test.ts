import { expect, test } from 'vitest'
import { flagAttenuated } from '../../services/series/attenuated-signal.ts'
import { flagFlatLines } from '../../services/series/flat-line.ts'
import { flagGap } from '../../services/series/gap.ts'
import { flagGrossRanges } from '../../services/series/gross-range.ts'
import { flagRatesOfChange } from '../../services/series/rate-of-change.ts'
import { type QualityFlag, rollUpFlags } from '../../services/series/roll-up.ts'
import { flagSpikes } from '../../services/series/spike.ts'
import { flagSyntax } from '../../services/series/syntax.ts'

// The numbers are those of the public library ioos_qc, tests/test_qartod.py; the rules those of US IOOS QARTOD,
// Manual for Real-Time Quality Control of pH Data, version 1.0, August 2019.

const digits = (flags: readonly QualityFlag[]): string => flags.join(' ')
const quarterHours = (values: readonly (number | null)[]) => ({
  timesMs: values.map((_, at) => at * 900_000),
  values
})
const _ = null
const wavy = [3, 4.99, 5, 6, 8, 6, 6, 6.75, 6, 6, 5.3, 6, 6, 9, 5, _, 4, 4]
const steps = [2, 10, 2.1, 3, 4, 5, 7, 10, 0, 2, 2.2, 2, 1, 2, 3, 90, 91, 92, 93, 1, 2, 3, 4, 5]
const calm = [1, 2, 2.0001, 2, 2.0001, 2, 2.0001, 2, 4, 5, 3, 3.0001, 3.0005, 3.00001]
const holed = [1, _, _, 2, 2.0001, 2, 2.0001, 2, 4, _, 3, _, _, 3.00001]
const range = { fail: [10, 50], suspect: [20, 40] } as const
const flat = { suspectMs: 3_000_000, failMs: 4_800_000, tolerance: 0.01 }

const cases: readonly Readonly<{ name: string; flags: readonly QualityFlag[]; published: string }>[] = [
  {
    name: 'gross range',
    flags: flagGrossRanges([5, 10, 15, 20, 25, 30, 35, 40, 45, 51], range),
    published: '4 3 3 1 1 1 1 1 3 4'
  },
  {
    name: 'gross range with missing values',
    flags: flagGrossRanges([_, 10, 15, 20, 25, 30, 35, 40, Number.NaN, 51, _], range),
    published: '9 3 3 1 1 1 1 1 9 4 9'
  },
  {
    name: 'spike by the average',
    flags: flagSpikes([10, 12, 999.99, 13, 15, 40, 9, 9, _, 10, 10, 999.99, 10, _], {
      suspect: 25,
      fail: 50,
      form: 'average'
    }),
    published: '2 4 4 4 1 3 1 2 9 2 4 4 2 9'
  },
  {
    name: 'small spikes by the average',
    flags: flagSpikes(wavy, { suspect: 0.5, fail: 1, form: 'average' }),
    published: '2 3 1 1 4 3 1 3 1 1 3 1 4 4 2 9 2 2'
  },
  {
    name: 'small spikes by the difference',
    flags: flagSpikes(wavy, { suspect: 0.5, fail: 1, form: 'differential' }),
    published: '2 1 1 1 4 1 1 3 1 1 3 1 1 4 2 9 2 2'
  },
  {
    name: 'rate of change with missing values',
    flags: flagRatesOfChange(quarterHours([2, 10, 2, 3, _, _, 7, 10]), { suspectPerSecond: 5 / 15 / 60 }),
    published: '1 3 3 1 9 9 1 1'
  },
  {
    // 10 / 15 / 60 is published this way: as a double it is a hair less than 10 / 900, so a change of exactly ten
    // in a quarter of an hour fails.
    name: 'rate of change with a fail limit',
    flags: flagRatesOfChange(quarterHours(steps), {
      suspectPerSecond: 5 / 15 / 60,
      failPerSecond: 10 / 15 / 60
    }),
    published: '1 3 3 1 1 1 1 1 4 1 1 1 1 1 1 4 1 1 1 4 1 1 1 1'
  },
  {
    name: 'flat line',
    flags: flagFlatLines(quarterHours(calm), flat),
    published: '1 1 1 1 3 3 4 4 1 1 1 1 1 3'
  },
  {
    name: 'flat line with missing values',
    flags: flagFlatLines(quarterHours(holed), flat),
    published: '1 9 9 1 3 3 4 4 1 9 1 9 9 3'
  },
  {
    name: 'flat line of six equal values, a second apart',
    flags: flagFlatLines(
      { timesMs: [0, 1, 2, 3, 4, 5].map((second) => second * 1000), values: [5, 5, 5, 5, 5, 5] },
      { suspectMs: 3000, failMs: 5000, tolerance: 0.1 }
    ),
    published: '1 1 1 3 3 4'
  },
  {
    name: 'attenuated signal by the range over two days',
    flags: flagAttenuated(
      { timesMs: [0, 1, 2, 3, 4].map((day) => day * 86_400_000), values: [1, 2, 3, 100, 1000] },
      { suspect: 100, fail: 10, windowMs: 2 * 86_400_000, measure: 'range', fewest: 2 }
    ),
    published: '2 4 4 3 1'
  }
]

test.each(cases)('$name flags as published', ({ flags, published }) => {
  expect(digits(flags)).toBe(published)
})

test('flags of several tests roll up as published: 9 below 2 below 1 below 3 below 4', () => {
  const vectors: readonly (readonly QualityFlag[])[] = [
    [1, 1, 1, 9, 1, 1, 9, 9],
    [2, 1, 1, 1, 1, 1, 9, 9],
    [1, 3, 3, 4, 3, 1, 2, 9]
  ]
  const columns = [0, 1, 2, 3, 4, 5, 6, 7].map((at) => vectors.map((vector) => vector[at] ?? 9))
  expect(digits(columns.map(rollUpFlags))).toBe('1 3 3 4 3 1 2 9')
  expect(rollUpFlags([])).toBe(9)
})

test('a flat line with tolerance 0 never fires, because nothing lies closer together than not at all', () => {
  expect(digits(flagFlatLines(quarterHours([5, 5, 5, 5, 5, 5, 5]), { ...flat, tolerance: 0 }))).toBe(
    '1 1 1 1 1 1 1'
  )
})

test('a gap is what lies between now and the newest reading, counted in full: 25 hours are not one', () => {
  const hourMs = 3_600_000
  const limits = { missingMs: hourMs, failMs: 6 * hourMs }
  expect(flagGap({ nowMs: 25 * hourMs, newestAtMs: 0 }, limits)).toBe(4)
  expect(flagGap({ nowMs: hourMs, newestAtMs: 0 }, limits)).toBe(1)
  expect(flagGap({ nowMs: hourMs + 1, newestAtMs: 0 }, limits)).toBe(9)
  expect(flagGap({ nowMs: 6 * hourMs, newestAtMs: 0 }, limits)).toBe(9)
  expect(flagGap({ nowMs: 6 * hourMs + 1, newestAtMs: 0 }, limits)).toBe(4)
  expect(flagGap({ nowMs: hourMs, newestAtMs: null }, limits)).toBe(9)
  expect(flagGap({ nowMs: 0, newestAtMs: hourMs }, limits)).toBe(1)
})

test('syntax: unreadable or a wrong checksum fails, a wrong length of something readable is suspect', () => {
  const text = 'x'.repeat(128)
  expect(flagSyntax({ text, readable: true, expectedLength: 128 })).toBe(1)
  expect(flagSyntax({ text, readable: true, expectedLength: 127 })).toBe(3)
  expect(flagSyntax({ text, readable: true })).toBe(1)
  expect(flagSyntax({ text, readable: false, expectedLength: 128 })).toBe(4)
  expect(flagSyntax({ text, readable: true, expectedLength: 128, checksumRight: false })).toBe(4)
  expect(flagSyntax({ text: null, readable: false })).toBe(9)
})
