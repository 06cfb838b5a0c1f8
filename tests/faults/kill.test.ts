import { expect, test } from 'vitest'
import { killRounds } from './kill-rounds.ts'

test('killed at twenty random moments, every acknowledged reading is in the record exactly once', async () => {
  const tally = await killRounds({ rounds: 20, seed: 20_261_125 })
  process.stdout.write(`kill -9: ${JSON.stringify(tally)}\n`)
  expect(tally.acknowledged).toBeGreaterThan(500)
  expect(tally.missing).toBe(0)
  expect(tally.doubled).toBe(0)
  expect(tally.rolledUp).toBe(tally.stored)
}, 180_000)
