import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { until } from '../wire/house-process.ts'
import { fillHall } from './kitchen.ts'
import { fillNight } from './night-of-fish.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
let eveningMs = 0
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  const filled = await fillNight(house)
  eveningMs = filled.eveningMs
}, 120_000)
afterAll(async () => house?.close())

const lanes = ['temperature', 'ph', 'nh3', 'nitrite'] as const
const readout = (page: Page, lane: string) => page.locator(`[data-lane=${lane}] .night-readout`)
const story = (page: Page) => page.locator('.night-story')
const ready = async (page: Page) => {
  await page.locator('.night-lane').nth(3).waitFor()
  await until(async () => /rang|Alarms/.test((await story(page).textContent()) ?? ''), {
    ...{ withinMs: 15_000, what: 'the paragraph' }
  })
}
/** From an hour before 21:00 to 08:00, as an address. */
const nightPath = () => `/#/night/study/${eveningMs}-${eveningMs + 11 * 3_600_000}`
const drawn = (page: Page, lane: string) =>
  page.evaluate(`(() => {
    const canvas = document.querySelector('[data-lane=${lane}] canvas')
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height)
    let inked = 0
    for (let at = 3; at < data.length; at += 4) if (data[at] > 200) inked += 1
    return inked
  })()`) as Promise<number>
const picture = (page: Page) =>
  page.evaluate(`document.querySelector('[data-lane=temperature] canvas').toDataURL()`) as Promise<string>

describe.skipIf(!hasChromium)(`last night${needsChromium}`, () => {
  test('from "fish added" in the diary one touch tells the night that followed', async () => {
    const page = await house.page('phone', { path: '/#/diary/study' })
    await page.getByRole('link', { name: /The night after: Fish added: 6 Corydoras aeneus/ }).tap()
    await ready(page)
    const said = (await story(page).textContent()) ?? ''
    expect(said).toContain('Written down: Fish added: 6 Corydoras aeneus (19:50)')
    expect(said).toMatch(/The water was lowest with 23\.7 °C at 0[34]:\d\d and highest with 24\.6 °C/)
    expect(said).toMatch(/From the evening pH sank by 0\.(?:29|30|31) to 7\.1\d around dawn \(06:\d\d\)/)
    expect(said).toMatch(/Toxic ammonia was highest with about 0\.0\d+ mg\/L NH₃ at/)
    expect(said).toContain('pH was not heard from 00:56 to 02:04')
    expect(said).toContain('0.1 mg/L NO₂')
    await page.screenshot({ path: `${screensDir}/night-phone-story.png`, fullPage: false })
    await page.locator('.night-lanes').scrollIntoViewIfNeeded()
    await page.locator('.night-ruler').evaluate('(one) => one.scrollIntoView()')
    await page.screenshot({ path: `${screensDir}/night-phone-lanes.png` })
    for (const lane of lanes) expect(await drawn(page, lane)).toBeGreaterThan(50)
  }, 60_000)

  test('the keyboard alone reads every lane at a moment, comes nearer and goes back', async () => {
    const page = await house.page('tablet', { path: nightPath() })
    await ready(page)
    const slider = page.getByRole('slider')
    await slider.focus()
    await page.keyboard.press('Home')
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^21:00\. Temperature: 24\.6 °C\. pH: 7\.4\d/)
    for (let presses = 0; presses < 7; presses += 1) await page.keyboard.press('PageUp')
    // Seven tenths of eleven hours after nine.
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^04:42\. Temperature: 23\.\d °C\./)
    await readout(page, 'temperature')
      .getByText(/^23\.\d °C$/)
      .waitFor()
    await readout(page, 'nh3')
      .getByText(/^about .* mg\/L NH₃ \(.* to .*\)$/)
      .waitFor()
    await readout(page, 'nitrite')
      .getByText(/^0\.1 mg\/L NO₂, tested \d+ \w+ 19:00$/)
      .waitFor()
    const before = await page.locator('.night-hour').allTextContents()
    const closer = page.waitForResponse(/series\/ph/)
    await page.keyboard.press('+')
    await page.keyboard.press('+')
    await closer
    expect(await page.locator('.night-hour').allTextContents()).not.toEqual(before)
    await page.keyboard.press('0')
    expect(await page.locator('.night-hour').allTextContents()).toEqual(before)
    await page.screenshot({ path: `${screensDir}/night-tablet.png` })
  }, 60_000)

  test('a silence reads as a silence', async () => {
    const page = await house.page('tablet', { path: nightPath() })
    await ready(page)
    await page.getByRole('slider').focus()
    await page.keyboard.press('Home')
    // Half past one: the pH was silent from one to two.
    for (let presses = 0; presses < 4; presses += 1) await page.keyboard.press('PageUp')
    await readout(page, 'ph').getByText('not heard').waitFor()
    await readout(page, 'temperature').getByText(/°C$/).waitFor()
  }, 60_000)

  test('the mouse reads, the wheel alone scrolls the page, and with Ctrl it comes nearer', async () => {
    const page = await house.page('large', { path: nightPath() })
    await ready(page)
    const run = page.locator('[data-lane=temperature] .night-run')
    await run.scrollIntoViewIfNeeded()
    const box = await run.boundingBox()
    if (box === null) throw new Error('the lane has no place')
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page
      .locator('.night-handle')
      .getByText(/^02:[23]\d$/)
      .waitFor()
    const before = await page.locator('.night-hour').allTextContents()
    await page.keyboard.down('Control')
    await page.mouse.wheel(0, -300)
    await page.keyboard.up('Control')
    await until(async () => (await page.locator('.night-hour').allTextContents()).join() !== before.join(), {
      ...{ withinMs: 5_000, what: 'the ruler to come nearer' }
    })
  }, 60_000)

  test('two fingers come nearer', async () => {
    const page = await house.page('phone', { path: nightPath() })
    await ready(page)
    const run = page.locator('[data-lane=temperature] .night-run')
    await run.scrollIntoViewIfNeeded()
    const box = await run.boundingBox()
    if (box === null) throw new Error('the lane has no place')
    const before = await page.locator('.night-hour').allTextContents()
    const session = await page.context().newCDPSession(page)
    const y = box.y + box.height / 2
    const fingers = (apart: number) =>
      [-1, 1].map((side, id) => ({ x: box.x + box.width / 2 + (side * apart) / 2, y, id }))
    await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: fingers(60) })
    for (const apart of [90, 130, 180, 240])
      await session.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: fingers(apart) })
    await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    await until(async () => (await page.locator('.night-hour').allTextContents()).join() !== before.join(), {
      ...{ withinMs: 5_000, what: 'the ruler to come nearer' }
    })
  }, 60_000)

  test('the nights before lie faint beside it, and stand in the paragraph', async () => {
    const page = await house.page('tablet', { path: nightPath() })
    await ready(page)
    const bare = await picture(page)
    await page.getByText('Show the three nights before').click()
    await page.getByText('Faint lines: the same hours of the three days before.').waitFor()
    await until(async () => (await picture(page)) !== bare, {
      ...{ withinMs: 5_000, what: 'the faint lines' }
    })
    await until(
      async () =>
        /In the same hours of the days before, temperature: 24\.\d/.test(
          (await story(page).textContent()) ?? ''
        ),
      { withinMs: 5_000, what: 'the days before in the paragraph' }
    )
    await page.locator('.night-lanes').evaluate('(one) => one.scrollIntoView()')
    await page.screenshot({ path: `${screensDir}/night-before-tablet.png` })
  }, 60_000)

  test('behind each chart stand its numbers, and on paper they are dark on white', async () => {
    const page = await house.page('tablet', { path: nightPath(), theme: 'night' })
    await ready(page)
    await page.getByText('Temperature in numbers').click()
    const rows = page.locator('[data-lane=temperature] tbody tr')
    expect(await rows.count()).toBeGreaterThanOrEqual(20)
    await rows.first().getByText('24.6').first().waitFor()
    expect(await page.locator('[data-lane=temperature] canvas').getAttribute('aria-label')).toMatch(
      /^Temperature: 23\.\d to 24\.\d °C\.$/
    )
    await page.emulateMedia({ media: 'print' })
    await page.evaluate(`dispatchEvent(new Event('beforeprint'))`)
    expect(await page.evaluate('document.documentElement.dataset.theme')).toBe('paper')
    expect(await page.locator('.nav').isVisible()).toBe(false)
    await page.screenshot({ path: `${screensDir}/night-print.png`, fullPage: true })
    await page.evaluate(`dispatchEvent(new Event('afterprint'))`)
    await page.emulateMedia({ media: 'screen' })
    await page.screenshot({ path: `${screensDir}/night-tablet-night.png` })
    expect(await page.evaluate('document.documentElement.dataset.theme')).toBe('night')
  }, 60_000)

  test('unsafe hours are hatched on their lane, said in the paragraph and listed', async () => {
    await fillHall(house)
    const results = [
      { quantity: 'ammonia', value: 6, unit: 'mg/L' },
      { quantity: 'ph', value: 8.6, unit: 'pH' },
      { quantity: 'temperature', value: 25.5, unit: 'Cel' }
    ]
    const takenAt = Date.now() - 5 * 3_600_000
    await house.ask('POST', '/api/tanks/hall/tests', { takenAt, results })
    const page = await house.page('tablet', { path: `/#/night/hall/${takenAt - 3_600_000}-${Date.now()}` })
    await ready(page)
    expect(await story(page).textContent()).toMatch(/Unsafe for fish: toxic ammonia from \d\d:\d\d/)
    expect(await story(page).textContent()).toContain('The water was tested by hand: 25.5 °C')
    await page.locator('[data-lane=nh3] .night-spell').waitFor()
    expect(await page.locator('[data-lane=ph] .night-mark').count()).toBe(1)
    await page.getByText('toxic ammonia unsafe for fish until').waitFor()
    await page.locator('[data-lane=ph]').evaluate('(one) => one.scrollIntoView({ block: "center" })')
    await page.screenshot({ path: `${screensDir}/night-unsafe-tablet.png` })
  }, 60_000)

  test('any other time: a week is ruled by days, and every moment in words carries its day', async () => {
    const page = await house.page('tablet', { path: '/#/night/study' })
    await ready(page)
    await page.getByRole('button', { name: '7 days' }).click()
    await until(
      async () => /lowest with .* at \d+ \w{3} \d\d:\d\d/.test((await story(page).textContent()) ?? ''),
      {
        ...{ withinMs: 10_000, what: 'the paragraph of the week' }
      }
    )
    const ruler = await page.locator('.night-hour').allTextContents()
    expect(ruler.length).toBeGreaterThanOrEqual(4)
    for (const label of ruler) expect(label).toMatch(/^\d+ \w{3,4}$/)
    await page.locator('.night-lanes').evaluate('(one) => one.scrollIntoView()')
    await page.screenshot({ path: `${screensDir}/night-week-tablet.png` })
  }, 60_000)

  test('a time in which nothing was measured says what to do next', async () => {
    const page = await house.page('phone', { path: `/#/night/study/1700000000000-1700040000000` })
    await page.getByText('Nothing was measured or written down in this time.').waitFor()
    await page.getByRole('link', { name: 'Connect a probe' }).waitFor()
  }, 30_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
