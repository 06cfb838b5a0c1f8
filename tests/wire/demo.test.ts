import { expect, test } from 'vitest'
import { makeDataDir, removeDataDir, startHouse } from './house-process.ts'

test('who looks around reads a banner first, and no line of a log', async () => {
  const dataDir = makeDataDir()
  const house = await startHouse({ dataDir, verb: 'demo', env: { LOG_LEVEL: '' } })
  try {
    expect(house.output()).toMatch(/^Shoalkeeper \d/)
    expect(house.output()).not.toContain('"level"')
  } finally {
    await house.kill('SIGTERM')
    removeDataDir(dataDir)
  }
})
