import { gzipSync } from 'node:zlib'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { until } from '../wire/house-process.ts'
import { fillHall, fillKitchen, ringInHall } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir, sizes } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
}, 120_000)
afterAll(async () => house?.close())

const value = (page: Page, lane: string) => page.locator(`[data-lane=${lane}] .lane-digits`)
const fontSize = (page: Page, selector: string) =>
  page.evaluate(
    `parseFloat(getComputedStyle(document.querySelector('${selector}')).fontSize)`
  ) as Promise<number>

/** What the house says first on a live stream. */
const openingOfStream = (page: Page) =>
  page.evaluate(`(async () => {
    const hearing = new AbortController()
    const answer = await fetch('/api/live', { signal: hearing.signal })
    const pieces = answer.body.pipeThrough(new TextDecoderStream()).getReader()
    let text = ''
    while (!/event: ?status[\\s\\S]*\\n\\n/.test(text)) text += (await pieces.read()).value
    hearing.abort()
    return text
  })()`) as Promise<string>

describe.skipIf(!hasChromium)(`the wall view${needsChromium}`, () => {
  test.each(['tablet', 'large'] as const)(
    'is read from two metres and never scrolls: %s',
    async (size) => {
      const page = await house.page(size)
      await value(page, 'nh3').waitFor()
      const overflow = await page.evaluate(
        `['documentElement', 'body'].map((name) => document[name].scrollHeight - innerHeight).concat(
          document.getElementById('page').scrollHeight - document.getElementById('page').clientHeight,
          document.documentElement.scrollWidth - innerWidth)`
      )
      expect(overflow).toEqual([0, 0, 0, 0])
      expect(await fontSize(page, 'h1')).toBeGreaterThanOrEqual(40)
      expect(await fontSize(page, '.lane-digits')).toBeGreaterThanOrEqual(64)
      const inside = await page.evaluate(
        `[...document.querySelectorAll('.lane, .next, .nav')].every((part) => {
          const box = part.getBoundingClientRect()
          return box.bottom <= innerHeight + 0.5 && box.right <= innerWidth + 6 && box.height > 40
        })`
      )
      expect(inside).toBe(true)
      for (const theme of ['paper', 'night'])
        await page
          .evaluate(`document.documentElement.dataset.theme = '${theme}'`)
          .then(() => page.screenshot({ path: `${screensDir}/wall-${size}-${theme}.png` }))
    },
    30_000
  )

  test('no hour of the time rule stands on another, at any hour of the day', async () => {
    const page = await house.page('tablet')
    await value(page, 'temperature').waitFor()
    for (const [width, height] of [
      [sizes.tablet.width, sizes.tablet.height],
      [1024, 768],
      [390, 844]
    ] as const) {
      await page.setViewportSize({ width, height })
      for (let hour = 0; hour < 24; hour += 1) {
        // The rule is laid anew with every hour moved along it: as it stands at each time of the day.
        const overlaps = await page.evaluate(`(() => {
          const all = [...document.querySelectorAll('.time-marks .time-mark')]
          const now = document.querySelector('.time-now').getBoundingClientRect().left
          all.forEach((mark, index) => {
            const part = ((index + ${hour} / 6) / 4) % 1
            mark.style.left = 'calc((100% - 14px) * ' + part + ')'
            mark.style.setProperty('--room', 'calc(100cqw * ' + (1 - part) + ')')
          })
          const boxes = all.map((mark) => mark.getBoundingClientRect()).filter(({ width }) => width > 0)
            .sort((a, b) => a.left - b.left)
          return boxes.filter(({ right }, at) => right > (boxes[at + 1]?.left ?? now) + 0.5).length
        })()`)
        expect({ width, hour, overlaps }).toEqual({ width, hour, overlaps: 0 })
      }
    }
  }, 30_000)

  test('a reading published over MQTT stands on the wall within moments', async () => {
    const page = await house.page('tablet')
    await value(page, 'temperature').waitFor()
    const delays: number[] = []
    for (const [tempC, shown] of [
      ['24.11', '24.1'],
      ['24.92', '24.9'],
      ['25.23', '25.2'],
      ['24.34', '24.3'],
      ['24.55', '24.6']
    ] as const) {
      const sentAtMs = performance.now()
      await house.publish('shoal/kitchen/t1/temperature', tempC)
      await until(async () => (await value(page, 'temperature').textContent()) === shown, {
        withinMs: 10_000,
        what: `${shown} on the wall`
      })
      delays.push(performance.now() - sentAtMs)
    }
    delays.sort((a, b) => a - b)
    console.log(`publish to wall: median ${Math.round(delays[2] ?? 0)} ms of ${delays.length}`)
  }, 40_000)

  test('when the house is silent the wall says so in words, and catches up by itself', async () => {
    const page = await house.page('tablet', { path: '/nowhere.txt' })
    await page.clock.install({ time: Date.now() })
    await page.goto(house.url)
    await value(page, 'temperature').waitFor()
    await page.context().setOffline(true)
    const silent = page.getByRole('heading', { name: /No word from the watch since/ })
    // An answer that was under way when the line broke may still come, and is a word of the house.
    await until(
      async () => {
        await page.clock.runFor(70_000)
        return silent.isVisible()
      },
      { withinMs: 20_000, what: 'the wall to say that nothing was heard' }
    )
    expect(await page.locator('.lane-fine, .lane-out').count()).toBe(0)
    await page.locator('[data-lane=temperature]').getByText('not up to date').waitFor()
    await page.screenshot({ path: `${screensDir}/wall-no-word.png` })
    await page.context().setOffline(false)
    await page.clock.runFor(40_000)
    await page.getByRole('heading', { name: /No word from the watch/ }).waitFor({ state: 'hidden' })
    await house.publish('shoal/kitchen/t1/temperature', '23.41')
    await until(async () => (await value(page, 'temperature').textContent()) === '23.4', {
      withinMs: 10_000,
      what: 'the reading that came after the silence'
    })
  }, 60_000)

  test('a newer version is loaded once and never in a circle', async () => {
    const page = await house.page('tablet', { path: '/nowhere.txt' })
    await page.route(`${house.url}/`, async (route) => {
      const answer = await route.fetch()
      const html = (await answer.text()).replace(/"version":"[^"]+"/, '"version":"older-than-the-house"')
      await route.fulfill({ response: answer, body: html })
    })
    // Each stream ends as soon as it has opened, so that the next one comes at once.
    const opening = await openingOfStream(page)
    let streams = 0
    await page.route('**/api/live*', async (route) => {
      streams += 1
      await route.fulfill({ contentType: 'text/event-stream', body: opening })
    })
    let loads = 0
    page.on('load', () => {
      loads += 1
    })
    await page.goto(house.url)
    await until(() => loads >= 2, { withinMs: 15_000, what: 'the page to load itself anew' })
    // The status comes with each new stream: two more of them must not load again.
    const before = streams
    await until(() => streams >= before + 3, { withinMs: 30_000, what: 'three more streams' })
    expect(loads).toBe(2)
  }, 90_000)

  test('another tank that rings is seen and heard on this wall, and one touch leads there', async () => {
    const page = await house.page('tablet', { path: '/#/now/kitchen' })
    await value(page, 'nh3').waitFor()
    expect(await page.locator('.others').count()).toBe(0)
    await fillHall(house)
    await page
      .locator('.other')
      .getByText(/^Hall: /)
      .waitFor()
    await ringInHall(house)
    const other = page.locator('.other.strip-new')
    await other.waitFor()
    expect(await other.textContent()).toMatch(/^Hall: Toxic ammonia is /)
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('Hall: Toxic ammonia is ')
    const over = `document.getElementById('page').scrollHeight - document.getElementById('page').clientHeight`
    expect(await page.evaluate(over)).toBe(0)
    await page.screenshot({ path: `${screensDir}/wall-other-tank-rings.png` })
    await other.tap()
    await page.locator('.strip-new .strip-seen-button').waitFor()
    expect(await page.locator('.other').textContent()).toMatch(/^Kitchen: /)
  }, 60_000)

  test('its JavaScript stays below 150 kB gzip', async () => {
    const page = await house.page('tablet', { path: '/nowhere.txt' })
    const bodies: Promise<Buffer>[] = []
    page.on('response', (answer) => {
      if (/\.js$/.test(new URL(answer.url()).pathname)) bodies.push(answer.body())
    })
    await page.goto(house.url)
    await value(page, 'temperature').waitFor()
    // What draws the lines comes after the numbers.
    await expect
      .poll(() =>
        page
          .locator('.lane canvas')
          .first()
          .evaluate((one) => one.width)
      )
      .not.toBe(300)
    const bytes = (await Promise.all(bodies)).reduce((sum, body) => sum + gzipSync(body).length, 0)
    console.log(`JavaScript of the wall view: ${(bytes / 1000).toFixed(1)} kB gzip in ${bodies.length} files`)
    expect(bytes).toBeGreaterThan(60_000)
    expect(bytes).toBeLessThan(150_000)
  }, 30_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
