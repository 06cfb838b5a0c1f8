import { describe, expect, test } from 'vitest'
import { agrees, answerOf, pairsOf, rowAnswers, rowsWithoutFormula } from './deviations.ts'
import { listed, type PublishedRow, publishedRows } from './published-rows.ts'

const titleOf = (row: PublishedRow): string =>
  `${row.id}: ${row.quantity} = ${JSON.stringify(row.expected)} ${row.unit} [${row.status}] ${row.source}`
const checks = publishedRows.filter((row) => row.kind === 'check')
const traps = publishedRows.filter((row) => row.kind === 'trap')

describe('values that must come out', () => {
  const answered = checks.filter((row) => answerOf(row) !== undefined)
  test.each(answered.map((row) => [titleOf(row), row] as const))('%s', (_title, row) => {
    const answer = answerOf(row)
    if (answer === undefined) throw new Error('no formula')
    const pairs = pairsOf(row, answer)
    expect(pairs).toHaveLength(listed(row.expected).length)
    expect(pairs.filter((pair) => !agrees(row, pair))).toEqual([])
  })
})

/** How far from a wrong value the answer must stay, as a share of it (pH: absolute). */
const clearOf = { share: 0.1, pH: 0.005 }

describe('wrong values that must not come out', () => {
  test.each(traps.map((row) => [titleOf(row), row] as const))('%s', (_title, row) => {
    const answer = answerOf(row)
    if (answer === undefined) throw new Error('no formula')
    for (const { expected, ours } of pairsOf(row, answer)) {
      expect(Number.isFinite(ours)).toBe(true)
      const room = row.unit === 'pH' ? clearOf.pH : clearOf.share * expected
      expect(Math.abs(ours - expected)).toBeGreaterThan(room)
    }
  })
})

test('every published value has a formula or a stated reason why not, and no formula waits for a value', () => {
  expect(checks).toHaveLength(383)
  expect(traps).toHaveLength(11)
  const without = publishedRows.filter((row) => answerOf(row) === undefined).map(({ id }) => id)
  expect(without.toSorted()).toEqual(Object.keys(rowsWithoutFormula).toSorted())
  expect(rowAnswers.filter(({ rows }) => !publishedRows.some(({ id }) => rows.test(id)))).toEqual([])
})

test('each value is asked of one formula only', () => {
  const several = publishedRows.filter(({ id }) => rowAnswers.filter(({ rows }) => rows.test(id)).length > 1)
  expect(several.map(({ id }) => id)).toEqual([])
})

test('each value names its source and whether it was read, remembered or derived', () => {
  for (const row of publishedRows) {
    expect(row.source.length).toBeGreaterThan(0)
    expect(['quoted', 'memory', 'derived']).toContain(row.status)
  }
})
