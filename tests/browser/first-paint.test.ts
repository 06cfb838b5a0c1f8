import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fillKitchen } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse } from './open-house.ts'

/** Notes every format that is made and what was asked until the numbers stand. */
const note = `
window.made = 0
for (const name of ['DateTimeFormat', 'NumberFormat'])
  Intl[name] = new Proxy(Intl[name], { construct: (of, given) => { window.made += 1; return new of(...given) } })
new MutationObserver((_, watcher) => {
  if (!document.querySelector('.sentence h1') || !document.querySelector('.lane-digits') || !document.querySelector('.next-words')) return
  watcher.disconnect()
  const asked = performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname).filter((path) => path.startsWith('/api/'))
  window.atNumbers = { made: window.made, asked }
}).observe(document, { childList: true, subtree: true })`

describe.skipIf(!hasChromium)(`the first paint of the wall${needsChromium}`, () => {
  let house: OpenHouse
  beforeAll(async () => {
    house = await openHouse()
    await fillKitchen(house)
  }, 60_000)
  afterAll(() => house.close())

  test('its numbers come with the page: nothing is asked and no table of the browser is read before them', async () => {
    const page = await house.page('tablet', { path: '/healthz' })
    await page.addInitScript(note)
    await page.goto(`${house.url}/#/now/kitchen`)
    await page.locator('.lane-digits').first().waitFor()
    expect(await page.evaluate('window.atNumbers')).toEqual({ made: 0, asked: [] })
    await page.locator('[data-lane=temperature] canvas').waitFor()
    expect(await page.locator('#first-answers').count()).toBe(0)
    expect(house.faults()).toEqual([])
  })

  test('after a log-out neither a new load nor the way back shows the tank', async () => {
    const page = await house.page('tablet', { path: '/#/now/kitchen' })
    await page.locator('.lane-digits').first().waitFor()
    await page.evaluate(`fetch('/api/session', { method: 'DELETE' })`)
    await page.reload()
    await page.locator('input[type=password]').waitFor()
    expect(await page.content()).not.toContain('Kitchen')
    await page.goto(`${house.url}/healthz`)
    await page.goBack()
    await page.locator('input[type=password]').waitFor()
    expect(await page.content()).not.toContain('Kitchen')
  })
})
