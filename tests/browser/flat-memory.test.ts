import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { liveLong } from './long-life.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (hasChromium) house = await openHouse()
}, 60_000)
afterAll(async () => house?.close())

describe.skipIf(!hasChromium)(`a wall that hangs for days${needsChromium}`, () => {
  test('after 72 hours of live updates its memory has grown by less than 5 MB', async () => {
    const life = await liveLong(house, { hours: 72, minutesAtATime: 30, minutesBetween: 3 })
    process.stdout.write(`wall view, 24 h to 72 h of live updates: ${JSON.stringify(life)}\n`)
    expect(life.digits).toMatch(/^24\.\d$/)
    expect(life.lastBytes - life.firstBytes).toBeLessThan(5_000_000)
    expect(house.faults()).toEqual([])
  }, 240_000)
})
