import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { flagAttenuated } from '../../services/series/attenuated-signal.ts'
import { flagClimatology, learnBand } from '../../services/series/climatology.ts'
import { flagFlatLines } from '../../services/series/flat-line.ts'
import { flagGrossRanges, type Span } from '../../services/series/gross-range.ts'
import { flagRatesOfChange } from '../../services/series/rate-of-change.ts'
import type { QualityFlag } from '../../services/series/roll-up.ts'
import { flagSpikes, type SpikeForm } from '../../services/series/spike.ts'

// Flags by the public library ioos_qc 3.0.0; tests/tables/vectors/make-quality-vectors.py names the command.
//
// Where our rule differs from the library's, and why the vectors keep clear of it:
// - a value that is infinite is missing there and a fail here: a board that sends it is at fault, not absent
//   (such a value does not get past the reading of the message anyway);
// - a limit of exactly 0 counts as "no limit" there in the spike test; here absent is absent and 0 is 0;
// - times there are cut to whole seconds; here milliseconds count;
// - the flat line there needs a usual interval that is at most the suspect time; with a longer one it flags every
//   value, because one value alone never moves. The form used for live readings counts time and at least five
//   values instead, and starts anew after a silence;
// - in the attenuated-signal test by range the library leaves every window with a missing value unjudged (the range
//   of anything with a hole in it is no number there); here the values that did come are judged. This one does
//   occur in the vectors, so such windows are set to 2 below before they are compared.

type Series = Readonly<{
  base: number
  step: number
  codes: readonly (number | null)[]
  gaps: readonly number[]
}>
type Case = Readonly<{ series: 'temperature' | 'ph'; test: string; limits: never; flags: string }>
const vectors = JSON.parse(
  readFileSync(new URL('../tables/vectors/quality-vectors.json', import.meta.url), 'utf8')
) as Readonly<{ temperature: Series; ph: Series; cases: readonly Case[] }>

const flagsOf = (runs: string): readonly number[] =>
  runs.split(' ').flatMap((run) => {
    const [flag = '', count = '1'] = run.split(':')
    return new Array<number>(Number(count)).fill(Number(flag))
  })

function holedSeries(series: Series) {
  let seconds = 0
  return {
    timesMs: series.gaps.map((gap) => {
      seconds += gap
      return seconds * 1000
    }),
    values: series.codes.map((code) => (code === null ? null : (series.base + code) * series.step))
  }
}
type Holed = ReturnType<typeof holedSeries>

function holdsMissing(series: Holed, at: number, windowMs: number): boolean {
  const fromMs = (series.timesMs[at] ?? 0) - windowMs
  for (let back = at; back >= 0 && (series.timesMs[back] ?? 0) > fromMs; back -= 1)
    if (series.values[back] === null) return true
  return false
}

const ours: Readonly<Record<string, (series: Holed, limits: never) => readonly QualityFlag[]>> = {
  'gross-range': (series, limits: { fail: Span; suspect?: Span }) => flagGrossRanges(series.values, limits),
  spike: (series, limits: { suspect: number; fail: number; form: SpikeForm }) =>
    flagSpikes(series.values, limits),
  'rate-of-change': (series, limits: { suspectPerSecond: number; failPerSecond: number }) =>
    flagRatesOfChange(series, limits),
  'flat-line': (series, limits: { tolerance: number; suspectMs: number; failMs: number }) =>
    flagFlatLines(series, limits),
  'attenuated-signal': (
    series,
    limits: { suspect: number; fail: number; windowMs: number; measure: 'range'; fewest: number }
  ) =>
    flagAttenuated(series, limits).map((flag, at) =>
      flag !== 9 && holdsMissing(series, at, limits.windowMs) ? 2 : flag
    ),
  climatology: (series, limits: { lowFrac: number; highFrac: number; margin: number; fewest: number }) => {
    const band = learnBand(
      series.values.filter((value) => value !== null),
      limits
    )
    return series.values.map((value) => flagClimatology(value, band))
  }
}

for (const [at, each] of vectors.cases.entries())
  test(`${each.test} of the ${each.series} series ${at} flags as the reference library does`, () => {
    const expected = flagsOf(each.flags)
    const flags = ours[each.test]?.(holedSeries(vectors[each.series]), each.limits) ?? []
    expect(flags.length).toBe(12_000)
    const differing = flags.flatMap((flag, point) =>
      flag === expected[point] ? [] : [`${point}: ${flag} instead of ${expected[point]}`]
    )
    expect(differing).toEqual([])
  })

test('the vectors hold every flag that a test can give, and each test on at least 10,000 points', () => {
  const seen = new Map<string, Set<number>>()
  const points = new Map<string, number>()
  for (const each of vectors.cases) {
    const flags = flagsOf(each.flags)
    points.set(each.test, (points.get(each.test) ?? 0) + flags.length)
    for (const flag of flags) seen.set(each.test, (seen.get(each.test) ?? new Set()).add(flag))
  }
  const found = (name: string): readonly number[] => [...(seen.get(name) ?? [])].sort((a, b) => a - b)
  expect(found('gross-range')).toEqual([1, 3, 4, 9])
  expect(found('spike')).toEqual([1, 2, 3, 4, 9])
  expect(found('rate-of-change')).toEqual([1, 3, 4, 9])
  expect(found('flat-line')).toEqual([1, 3, 4, 9])
  expect(found('attenuated-signal')).toEqual([1, 2, 3, 4, 9])
  expect(found('climatology')).toEqual([1, 3, 9])
  expect([...points.values()].every((count) => count >= 10_000)).toBe(true)
})
