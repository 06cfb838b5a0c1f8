import type { TrustLine } from '../../services/contract/trust.ts'
import { answerOf, pairsOf } from './deviations.ts'
import { comparisons } from './independent.ts'
import { publishedRows } from './published-rows.ts'

/** Two figures are enough to judge by; below a billionth the machine's own rounding speaks. */
const rounded = (value: number): number => (value < 1e-9 ? 0 : Number(value.toPrecision(2)))

/** The worst deviation of each quantity from each source, computed afresh. */
export function trustLines(): TrustLine[] {
  const lines = new Map<string, TrustLine>()
  const put = (line: TrustLine): void => {
    const key = [line.about, line.source, line.status, line.measure, line.unit].join('|')
    const before = lines.get(key)
    lines.set(
      key,
      before === undefined
        ? line
        : { ...line, checks: before.checks + line.checks, worst: Math.max(before.worst, line.worst) }
    )
  }
  for (const row of publishedRows) {
    const answer = answerOf(row)
    if (answer === undefined || row.kind === 'trap') continue
    const measure = row.tol_abs === undefined ? 'relative' : 'absolute'
    for (const { expected, ours } of pairsOf(row, answer)) {
      const off = Math.abs(ours - expected)
      put({
        about: answer.about,
        source: row.status === 'derived' ? 'the named formula, computed apart from our code' : row.source,
        status: row.status,
        checks: 1,
        worst: measure === 'relative' ? off / Math.abs(expected) : off,
        measure,
        unit: measure === 'relative' || row.unit === '-' || row.unit === '1' ? '' : row.unit
      })
    }
  }
  for (const { about, with: source, deviations, measure, unit } of comparisons())
    put({
      about,
      source,
      status: 'independent',
      checks: deviations.length,
      worst: Math.max(...deviations),
      measure,
      unit
    })
  return [...lines.values()].map((line) => ({ ...line, worst: rounded(line.worst) }))
}

/** The same as the file that the service carries. */
export function trustSource(lines: readonly TrustLine[]): string {
  const rows = lines.map((line) => Object.values(line).join(' | '))
  const unfit = rows.filter((row) => row.split('|').length !== 7 || /[`\\$]/.test(row))
  if (unfit.length > 0) throw new Error(`a text would break the table: ${unfit.join('; ')}`)
  return `/**
 * How far our formulas lie from each source at worst: about | source | status | checks | worst | measure | unit.
 * Written by the tests from the comparisons themselves, never by hand.
 */
export const trustFigures = \`
${rows.join('\n')}
\`
`
}
