import { ammoniaAnswers, type RowAnswer } from './ammonia-answers.ts'
import { carbonateAnswers } from './carbonate-answers.ts'
import { filterAnswers } from './filter-answers.ts'
import { listed, type PublishedRow } from './published-rows.ts'

export const rowAnswers: readonly RowAnswer[] = [...ammoniaAnswers, ...carbonateAnswers, ...filterAnswers]

/** Rows no formula of ours answers, each with its reason. */
export const rowsWithoutFormula: Readonly<Record<string, string>> = {}

export const answerOf = (row: PublishedRow): RowAnswer | undefined =>
  rowAnswers.find(({ rows }) => rows.test(row.id))

const toFigures = (value: number, figures: number): number => Number(value.toPrecision(figures))

/** Pairs of what stands in the source and what comes out here. */
export function pairsOf(row: PublishedRow, answer: RowAnswer): { expected: number; ours: number }[] {
  const ours = listed(answer.ask(row.inputs, row.id))
  return listed(row.expected).map((expected, i) => ({ expected, ours: ours[i] ?? ours[0] ?? Number.NaN }))
}

export function agrees(row: PublishedRow, { expected, ours }: { expected: number; ours: number }): boolean {
  if (row.tol_sigfig !== undefined)
    return toFigures(ours, row.tol_sigfig) === toFigures(expected, row.tol_sigfig)
  if (row.tol_rel !== undefined) return Math.abs(ours - expected) <= row.tol_rel * Math.abs(expected)
  if (row.tol_abs === undefined) throw new Error(`${row.id} has no tolerance`)
  // A source that prints the tolerance to the last figure leaves no room for binary rounding.
  return Math.abs(ours - expected) <= row.tol_abs + 1e-12
}
