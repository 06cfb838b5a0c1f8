import { expect, test } from 'vitest'
import { liveLong } from '../browser/long-life.ts'
import { openHouse } from '../browser/open-house.ts'

test('after a week of live updates, one minute after the other, the wall has grown by less than 5 MB', async () => {
  process.stdout.write('about 10 minutes: a week of the wall view\n')
  const house = await openHouse()
  try {
    const life = await liveLong(house, { hours: 168, minutesAtATime: 1, minutesBetween: 1 })
    process.stdout.write(`wall view, 24 h to 168 h of live updates: ${JSON.stringify(life)}\n`)
    expect(life.lastBytes - life.firstBytes).toBeLessThan(5_000_000)
    expect(house.faults()).toEqual([])
  } finally {
    await house.close()
  }
})
