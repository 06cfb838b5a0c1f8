import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readmePath, withTrust } from './readme-trust.ts'

test('README tells the same deviations as the tests found (node --import tsx tests/tables/write-readme-trust.ts writes them)', () => {
  const readme = readFileSync(readmePath, 'utf8')
  expect(readme).toBe(withTrust(readme))
  expect(readme).toContain('worst deviation')
})
