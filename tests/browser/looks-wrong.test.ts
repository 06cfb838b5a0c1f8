import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fillHall, fillKitchen, ringInHall } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir, sizes } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
  await fillHall(house)
  await ringInHall(house)
}, 120_000)
afterAll(async () => house?.close())

const looked = async (tank: string) =>
  ((await house.ask('GET', `/api/tanks/${tank}/events`)).body as { kind: string; data?: object }[]).filter(
    ({ kind }) => kind === 'fish-look-wrong'
  )
/** Where the last acute step ends, and where the bar at the foot begins, in pixels of the screen. */
const ends = (page: Page) =>
  page.evaluate(`({
    step: document.querySelector('.look-acute li:last-child').getBoundingClientRect().bottom,
    bar: document.querySelector('.nav').getBoundingClientRect().top
  })`) as Promise<{ step: number; bar: number }>

describe.skipIf(!hasChromium)(`something looks wrong${needsChromium}`, () => {
  test('one touch on the wall, three answers, and the safe steps fill one screen of a phone', async () => {
    const page = await house.page('phone', { path: '/#/now/kitchen' })
    await page.locator('.lane-digits').first().waitFor()
    await page.screenshot({ path: `${screensDir}/looks-wrong-wall-phone.png` })
    await page.getByRole('link', { name: 'Something looks wrong' }).tap()
    await page.getByText('First, more air').waitFor()
    await page.screenshot({ path: `${screensDir}/looks-wrong-question-phone.png` })
    await page.getByRole('button', { name: 'Yes', exact: true }).tap()
    await page.getByRole('button', { name: 'Water was changed or topped up' }).tap()
    await page.getByRole('button', { name: 'All, or several' }).tap()
    await page.getByRole('heading', { name: 'Do now' }).waitFor()
    await page.screenshot({ path: `${screensDir}/looks-wrong-steps-phone.png` })
    const steps = await page.locator('.do-list li').allTextContents()
    expect(steps[0]).toMatch(/^More air now/)
    expect(steps[1]).toMatch(/^Do not feed/)
    expect(steps[2]).toMatch(/^Put conditioner in now/)
    const { step, bar } = await ends(page)
    console.log(
      `the acute steps end at ${Math.round(step)} of ${sizes.phone.height} px, the bar begins at ${Math.round(bar)}`
    )
    expect(step).toBeLessThanOrEqual(bar)
    expect(await looked('kitchen')).toMatchObject([
      { data: { signs: ['gasping', 'after-water-change', 'all-fish'] } }
    ])
    await page.goto(`${house.url}/#/diary/kitchen`)
    await page
      .getByText('Fish look wrong: Gasping at the top, after a water change, all of them or several')
      .waitFor()
  }, 40_000)

  test('with a standing alarm the steps know of it, and still fit', async () => {
    const page = await house.page('phone', { path: '/#/alarms/hall' })
    await page.getByRole('link', { name: 'Something looks wrong' }).tap()
    await page.getByRole('button', { name: 'I cannot tell' }).tap()
    await page.getByRole('button', { name: 'One question back' }).tap()
    await page.getByRole('button', { name: 'No', exact: true }).tap()
    await page.getByRole('button', { name: 'New fish came' }).tap()
    await page.getByRole('button', { name: 'One only' }).tap()
    await page.getByText('Never raise the pH now').waitFor()
    await page.getByText('Test the pH of the tap. Change 30 to 50 %').waitFor()
    await page.getByText('Toxic ammonia is too high').waitFor()
    const { step, bar } = await ends(page)
    expect(step).toBeLessThanOrEqual(bar)
    await page.screenshot({ path: `${screensDir}/looks-wrong-alarm-phone.png`, fullPage: true })
    await page.getByRole('button', { name: 'Take it out of the diary' }).tap()
    await page.getByText('It was taken out of the diary').waitFor()
    expect(await looked('hall')).toEqual([])
  }, 40_000)

  test('the keyboard alone comes to the steps, from any screen', async () => {
    const before = (await looked('kitchen')).length
    const page = await house.page('tablet', { path: '/#/upkeep/kitchen', theme: 'night' })
    await page.locator('.task').first().waitFor()
    const focused = () => page.evaluate('document.activeElement?.textContent ?? ""') as Promise<string>
    const tabTo = async (words: RegExp) => {
      for (let presses = 0; presses < 60; presses += 1) {
        await page.keyboard.press('Tab')
        if (words.test(await focused())) return
      }
      throw new Error(`60 presses of Tab did not reach ${words}`)
    }
    await tabTo(/^Something looks wrong$/)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Are fish gasping' }).waitFor()
    await expect.poll(focused).toBe('Are fish gasping at the surface?')
    await tabTo(/^No$/)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'What happened' }).waitFor()
    await expect.poll(focused).toBe('What happened in the last two days?')
    await page.screenshot({ path: `${screensDir}/looks-wrong-question-tablet.png` })
    await tabTo(/^No more questions/)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Do now' }).waitFor()
    await expect.poll(focused).toBe('Do now')
    await page.screenshot({ path: `${screensDir}/looks-wrong-steps-tablet.png` })
    expect(await looked('kitchen')).toHaveLength(before + 1)
  }, 40_000)

  test('while the house is away the page still says what is safe, and writes it down once it is back', async () => {
    const before = (await looked('kitchen')).length
    const page = await house.page('phone', { path: '/#/looks-wrong/kitchen' })
    await page.getByRole('button', { name: 'Yes', exact: true }).tap()
    await page.getByRole('button', { name: 'Nothing', exact: true }).tap()
    await page.context().setOffline(true)
    await page.getByRole('button', { name: 'I cannot tell' }).tap()
    await page.getByText('The watch cannot be reached').waitFor()
    expect((await page.locator('.look-acute li').allTextContents())[0]).toMatch(/^More air now/)
    await page.screenshot({ path: `${screensDir}/looks-wrong-away-phone.png` })
    await page.context().setOffline(false)
    await page.getByRole('button', { name: 'Ask the watch again' }).tap()
    await page.getByText('What the watch knows').waitFor()
    expect(await looked('kitchen')).toHaveLength(before + 1)
  }, 40_000)

  test('who reads Fahrenheit and ppm is told so in every sentence, at once', async () => {
    // Its words of the file are minutes old by now, and more so on a slow machine.
    await house.publish('shoal/kitchen/t1/temperature', '24.6')
    const page = await house.page('phone', { path: '/#/house/kitchen' })
    await page.getByText('°F', { exact: true }).tap()
    await page.getByRole('link', { name: 'Now', exact: true }).tap()
    await page.getByRole('heading', { name: /^The water is 7\d\.\d\s°F/ }).waitFor()
    await page.goto(`${house.url}/#/looks-wrong/kitchen/steps`)
    await page.getByText(/The probe says 7\d\.\d °F/).waitFor()
    await page.getByText('no more than 3.6 °F warmer or colder').waitFor()
    expect(await page.locator('main').textContent()).not.toContain('°C')
    await house.ask('PUT', '/api/settings', { temperatureUnit: 'Cel' })
  }, 40_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
