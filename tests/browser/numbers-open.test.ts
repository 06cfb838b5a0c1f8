import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { excepted, numbersOn } from './bare-numbers.ts'
import { fillEveryScreen, type Screen } from './every-screen.ts'
import { fillNight } from './night-of-fish.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse } from './open-house.ts'

let house: OpenHouse
let screens: readonly Screen[] = []
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  const events = [
    { kind: 'water-changed', data: { fraction: 0.25 } },
    { kind: 'dosed', data: { substance: 'baking soda', amount: 2, unit: 'g' } }
  ]
  const every = await fillEveryScreen(house)
  const { eveningMs } = await fillNight(house)
  const worn = await wearElectrode()
  screens = [
    ...every,
    {
      name: 'a night with marks',
      // Named by its hours: an hour into the next evening the page without them opens on that one.
      path: `/#/night/study/${eveningMs - 3_600_000 * 2}-${eveningMs + 11 * 3_600_000}`,
      sign: '.night-marks li',
      as: 'keeper'
    },
    { name: 'probe that drifts', path: `/#/probes/kitchen/${worn}`, sign: '.caution', as: 'keeper' },
    { name: 'probes, one worn', path: '/#/probes/kitchen', sign: '.probe-drift', as: 'keeper' },
    { name: 'alarms, none', path: '/#/alarms/kitchen', sign: '.behind', as: 'keeper' },
    ...(['unionised-ammonia', 'electrode'] as const).map(
      (id): Screen => ({
        name: `work it out, ${id}`,
        path: `/#/work-it-out/kitchen/${id}`,
        sign: '.work-formula',
        as: 'keeper'
      })
    ),
    { name: 'trust', path: '/#/work-it-out/kitchen/trust', sign: '.work-brief', as: 'keeper' }
  ]
  for (const event of events)
    await house.ask('POST', '/api/tanks/kitchen/events', { atMs: Date.now() - 3_600_000, ...event })
}, 150_000)
afterAll(async () => house?.close())

/** A thermometer that three tests contradict, and an electrode that a second one contradicts and that should go. */
async function wearElectrode(): Promise<string> {
  for (const hoursAgo of [15, 8, 3])
    await house.ask('POST', '/api/tanks/kitchen/tests', {
      takenAt: Date.now() - hoursAgo * 3_600_000,
      results: [{ quantity: 'temperature', value: 25.1, unit: 'Cel' }]
    })
  await house.publish('shoal/kitchen/ph1/ph', '7.2')
  await house.publish('shoal/kitchen/ph2/ph', '8.4')
  const probes = (await house.ask('GET', '/api/probes?tank=kitchen')).body as { id: string; name: string }[]
  const id = probes.find(({ name }) => name === 'ph1')?.id ?? ''
  const points = [
    { buffer: 'technical-7.00', tempC: 25, shownPH: 6.9 },
    { buffer: 'technical-4.00', tempC: 25, shownPH: 4.5 }
  ]
  await house.ask('POST', `/api/probes/${id}/calibrations`, { kind: 'electrode', points })
  return id
}

/** A link to where the same number opens; that it does is tested below. */
const leading = ['.strip-link', '.other', '.past-alarm']

const openers = '[aria-haspopup=dialog]'
const sheet = (page: Page) => page.getByRole('dialog')

async function show(page: Page, { path, sign }: Screen): Promise<void> {
  await page.goto('about:blank')
  await page.goto(`${house.url}${path}`)
  await page.locator(sign).first().waitFor({ timeout: 20_000 })
  // Lists come one after the other: the page is whole once its words stand still.
  const letters = () => page.evaluate('document.body.innerText.length')
  for (let before = -1, now = await letters(); now !== before; now = await letters()) {
    before = now as number
    await page.waitForTimeout(400)
  }
}

describe.skipIf(!hasChromium)(`every number opens its answer${needsChromium}`, () => {
  test('on every screen, wherever it is touched', async () => {
    const selectors = excepted.map(([selector]) => selector)
    const bare: unknown[] = []
    const unused = new Set(selectors)
    let opening = 0
    for (const as of ['keeper', 'stranger'] as const) {
      const page = await house.page('tablet', { as, path: '/healthz' })
      for (const screen of screens.filter((one) => one.as === as)) {
        await show(page, screen)
        const seen = await numbersOn(page, [...selectors, ...leading])
        opening += seen.filter(({ opens }) => opens).length
        for (const { opens, line, path } of seen) if (!opens) bare.push({ screen: screen.name, line, path })
        for (const selector of unused) if ((await page.locator(selector).count()) > 0) unused.delete(selector)
      }
    }
    expect(bare).toEqual([])
    expect([...unused]).toEqual([])
    expect(opening).toBeGreaterThan(40)
  }, 200_000)

  test('a bare number is found, and so is one under something that lies over its answer', async () => {
    const page = await house.page('tablet')
    await page.locator('.lane-digits').first().waitFor()
    await page.evaluate(
      `document.querySelector('.wall-side').insertAdjacentHTML('beforeend', '<p>pH 7.1 <b>in 3</b> days</p>')`
    )
    const [found] = (await numbersOn(page, leading)).filter(({ opens }) => !opens)
    expect(found?.numbers).toEqual(['pH 7.1', '3 days'])
    await page.evaluate(`Object.assign(document.body.appendChild(document.createElement('div')).style,
      { position: 'fixed', inset: '60% 0 0 0', zIndex: 9 })`)
    const under = (await numbersOn(page, [...leading, '.wall-side'])).filter(({ opens }) => !opens)
    expect(under.map(({ line }) => line)).toContainEqual(expect.stringContaining('Test ammonia and nitrite'))
  }, 60_000)

  test('what opens says from what, how sure, and names a source or that there is none', async () => {
    const page = await house.page('tablet', { path: '/healthz' })
    const silent: unknown[] = []
    let asked = 0
    for (const screen of screens.filter(({ as }) => as === 'keeper')) {
      await show(page, screen)
      await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = true`)
      const buttons = page.locator(openers)
      const count = await buttons.count()
      for (let at = 0; at < count; at += 1) {
        await buttons.nth(at).click()
        await sheet(page).waitFor()
        await sheet(page)
          .getByText(/source/i)
          .first()
          .waitFor({ timeout: 5_000 })
          .catch(async () => silent.push({ screen: screen.name, said: await sheet(page).textContent() }))
        const said = (await sheet(page).textContent()) ?? ''
        if (!said.includes('From what?') || !said.includes('How sure?') || /undefined|NaN|null/.test(said))
          silent.push({ screen: screen.name, said })
        asked += 1
        await page.keyboard.press('Escape')
        await sheet(page).waitFor({ state: 'hidden' })
      }
    }
    expect(silent).toEqual([])
    expect(asked).toBeGreaterThan(40)
  }, 200_000)

  test('a number in a link opens where the link leads', async () => {
    const page = await house.page('tablet', { path: '/#/now/kitchen' })
    for (const [path, link] of [
      ['/#/now/kitchen', '.other'],
      ['/#/now/hall', '.strip-link'],
      ['/#/alarms/hall', '.strip-link']
    ] as const) {
      await page.goto(`${house.url}${path}`)
      const words = (await page.locator(link).first().textContent()) ?? ''
      const [number = 'none'] = words.match(/\d+\.\d+(?=\smg\/L)/) ?? []
      await page.locator(link).first().click()
      await page.locator(openers).filter({ hasText: number }).first().click()
      await sheet(page).getByText(number).first().waitFor()
      await page.keyboard.press('Escape')
    }
  }, 60_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
