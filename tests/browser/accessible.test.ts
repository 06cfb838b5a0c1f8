import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { lookInEverySize } from './axe-look.ts'
import { fillEveryScreen, type Screen } from './every-screen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, sizes } from './open-house.ts'

let house: OpenHouse
let screens: readonly Screen[] = []
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  screens = await fillEveryScreen(house)
}, 120_000)
afterAll(async () => house?.close())

/** Elements that a finger must hit, and are smaller than 48 by 48 in one direction that matters. */
const smallTargets = `[...document.querySelectorAll('button, a.button, .nav a, .choice, select, input:not([type=checkbox]):not([type=radio])')]
  .filter((one) => one.offsetParent !== null && !one.classList.contains('skip'))
  .map((one) => ({ height: one.getBoundingClientRect().height, words: one.textContent }))
  .filter((one) => one.height < 47.5)`

/** By how many pixels any words or anything to touch reach over the right edge. */
const sideways = `Math.max(0, ...[...document.querySelectorAll('h1, h2, p, a, button, input, select, label, code, .lane-digits, .lane-unit')]
  .filter((one) => one.offsetParent !== null && one.closest('.for-ears, .time-rule, pre, .nav ul') === null)
  .map((one) => Math.round(one.getBoundingClientRect().right - innerWidth)))`

describe.skipIf(!hasChromium)(`every screen is for everyone${needsChromium}`, () => {
  test('axe finds nothing at any size on paper and at night, and every target is 48 px high', async () => {
    const keeper = await house.page('tablet', { theme: 'paper' })
    const stranger = await house.page('tablet', { theme: 'paper', as: 'stranger' })
    for (const { name, path, sign, as } of screens) {
      const page = as === 'keeper' ? keeper : stranger
      await page.goto(`${house.url}${path}`)
      await page.locator(sign).first().waitFor({ timeout: 20_000 })
      await lookInEverySize(page, name, { smallTargets, sideways })
    }
  }, 300_000)

  test('the keyboard alone reaches the alarm, acknowledges it and types a test', async () => {
    const page = await house.page('tablet', { path: '/#/now/hall' })
    await page.locator('.strip-new').waitFor()
    const focused = () => page.evaluate('document.activeElement?.textContent ?? ""') as Promise<string>
    const tabTo = async (words: RegExp) => {
      for (let presses = 0; presses < 60; presses += 1) {
        await page.keyboard.press('Tab')
        if (words.test(await focused())) return
      }
      throw new Error(`60 presses of Tab did not reach ${words}`)
    }
    await tabTo(/^Skip to the page$/)
    await page.keyboard.press('Enter')
    await tabTo(/^I have seen it$/)
    const outline = await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')
    expect(outline).toBe('solid')
    await page.keyboard.press('Enter')
    await page.locator('.strip-new').waitFor({ state: 'hidden' })
    await tabTo(/^Type in a test$/)
    await page.keyboard.press('Enter')
    await page.locator('.pad').waitFor()
    await page.keyboard.type('0.25')
    await tabTo(/^Save Ammonia 0.25/)
    await page.keyboard.press('Enter')
    await page.getByText('Saved: Ammonia 0.25').waitFor()
  }, 60_000)

  test.each([
    ['held upright', sizes.tablet.height, sizes.tablet.width],
    ['a small tablet', 1024, 768]
  ])(
    'a tablet shows every place of the bar whole, an alarm counted and a choice of tanks beside them: %s',
    async (_name, width, height) => {
      const page = await house.page('tablet', { path: '/#/house/hall' })
      await page.setViewportSize({ width, height })
      await page.locator('.nav-count').first().waitFor()
      const places = page.locator('.nav > ul a')
      expect(await places.count()).toBe(10)
      const standWhole = async (beside: readonly string[]) => {
        const row = await page.locator('.nav > ul').boundingBox()
        const rowEnd = (row?.x ?? 0) + (row?.width ?? Number.NaN)
        for (const [place, end] of [
          ...(await places.all()).map((one) => [one, rowEnd] as const),
          ...beside.map((selector) => [page.locator(selector), width] as const)
        ]) {
          const box = await place.boundingBox()
          expect(box?.x).toBeGreaterThanOrEqual(0)
          expect((box?.x ?? 0) + (box?.width ?? Number.NaN)).toBeLessThanOrEqual(end + 0.5)
        }
      }
      await standWhole(['.nav-look', '.nav-tank'])
      // As it is where there is one tank only: wider words, and nothing to choose from.
      await page.evaluate(`document.querySelector('.nav-tank').remove()`)
      await standWhole(['.nav-look'])
      expect(await page.evaluate(smallTargets)).toEqual([])
      expect(await page.evaluate(sideways)).toBe(0)
    },
    30_000
  )

  test('with text at twice its size the phone still scrolls one way only', async () => {
    const page = await house.page('phone')
    await page.evaluate(`document.documentElement.style.fontSize = '200%'`)
    for (const screen of screens.filter(({ as }) => as === 'keeper')) {
      await page.goto(`${house.url}${screen.path}`)
      await page.locator(screen.sign).first().waitFor({ timeout: 20_000 })
      const over = await page.evaluate(sideways)
      expect({ screen: screen.name, over }).toEqual({ screen: screen.name, over: 0 })
    }
  }, 60_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
