import { expect, test } from 'vitest'
import { killRounds } from '../faults/kill-rounds.ts'

test('killed at five hundred random moments, every acknowledged reading is in the record exactly once', async () => {
  process.stdout.write('about 20 minutes: 500 starts and kills\n')
  const tally = await killRounds({ rounds: 500, seed: 7 })
  process.stdout.write(`kill -9: ${JSON.stringify(tally)}\n`)
  expect(tally.missing).toBe(0)
  expect(tally.doubled).toBe(0)
  expect(tally.rolledUp).toBe(tally.stored)
})
