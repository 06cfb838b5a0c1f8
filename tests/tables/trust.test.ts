import { expect, test } from 'vitest'
import { trust } from '../../services/contract/trust.ts'
import { publishedRows } from './published-rows.ts'
import { trustLines, trustSource } from './trust-table.ts'

// After a change of a formula: npx vitest run tests/tables/trust.test.ts -u writes the file anew.
test('what we tell about our accuracy is what the comparisons just found', async () => {
  await expect(trustSource(trustLines())).toMatchFileSnapshot('../../services/contract/trust-figures.ts')
})

test('the table reads back as it was written', () => {
  expect(trust).toEqual(trustLines())
})

test('every published value counts in the table of trust', () => {
  const counted = trust
    .filter(({ status }) => status !== 'independent')
    .reduce((sum, { checks }) => sum + checks, 0)
  const values = publishedRows
    .filter(({ kind }) => kind === 'check')
    .map(({ expected }) => [expected].flat().length)
  expect(counted).toBe(values.reduce((sum, count) => sum + count, 0))
})
