import { heapBytes, minuteOfLife, quickenTime, tell } from './fast-time.ts'
import { fillKitchen } from './kitchen.ts'
import type { OpenHouse } from './open-house.ts'

export type LongLife = Readonly<{
  hours: number
  firstBytes: number
  lastBytes: number
  digits: string | null
}>

/**
 * Lets the wall view live through hours of live updates, and weighs its memory. So many minutes come at a time; boards
 * speak every so many of them, and each of their readings comes as an event of its own.
 */
export async function liveLong(
  house: OpenHouse,
  plan: Readonly<{ hours: number; minutesAtATime: number; minutesBetween: number }>
): Promise<LongLife> {
  const { hours, minutesAtATime, minutesBetween } = plan
  await fillKitchen(house)
  const page = await house.page('tablet', { path: '/healthz' })
  await quickenTime(page)
  await page.goto(`${house.url}/#/now/kitchen`)
  await page.locator('[data-lane=nh3] .lane-digits').waitFor()
  const startMs = (await page.evaluate('Date.now()')) as number
  let firstBytes = 0
  for (let minute = minutesAtATime; minute <= hours * 60; minute += minutesAtATime) {
    await page.clock.fastForward(minutesAtATime * 60_000)
    const minutes: number[] = []
    for (let one = minute - minutesAtATime + minutesBetween; one <= minute; one += minutesBetween)
      minutes.push(one)
    await tell(page, minutes.map((one) => minuteOfLife(startMs + one * 60_000)).join(''))
    // Weighed first when the lanes hold a whole day: until then they grow because they are to.
    if (firstBytes === 0 && minute >= 24 * 60) firstBytes = await heapBytes(page)
  }
  const digits = await page.locator('[data-lane=temperature] .lane-digits').textContent()
  return { hours, firstBytes, lastBytes: await heapBytes(page), digits }
}
