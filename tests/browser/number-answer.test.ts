import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { faultsByAxe } from './axe-look.ts'
import { fillHall, fillKitchen, ringInHall } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
  await house.publish('shoal/kitchen/t1/temperature', '24.61')
}, 120_000)
afterAll(async () => house?.close())

const number = (page: Page, lane: string) => page.locator(`[data-lane=${lane}]`).getByRole('button')
const sheet = (page: Page) => page.getByRole('dialog')

describe.skipIf(!hasChromium)(`every number on the wall opens its answer${needsChromium}`, () => {
  test('toxic ammonia: from what, how sure, which formula, its range and its source', async () => {
    const page = await house.page('tablet')
    await number(page, 'nh3').click()
    await sheet(page).waitFor()
    const text = async () => ((await sheet(page).textContent()) ?? '').replaceAll(/\s+/g, ' ')
    await sheet(page).getByText('Formula', { exact: true }).waitFor()
    const said = await text()
    expect(said).toMatch(/All ammonia: 0\.25 mg\/L as NH₃, carried on from the test 18 h ago/)
    expect(said).toMatch(/pH: 7\.3\d, by the probe/)
    expect(said).toMatch(/Temperature: 24\.\d °C, by the probe/)
    expect(said).toMatch(/The pH may be off by 0\.[13]/)
    // The range of Emerson et al. 1975 as the house gives it.
    expect(said).toMatch(/Emerson/)
    expect(said).toMatch(/It holds for/)
    expect(await faultsByAxe(page, 'everything')).toEqual([])
    await page.screenshot({ path: `${screensDir}/answer-nh3-tablet.png` })
  }, 60_000)

  test('the keyboard alone opens it, Escape closes it, and the focus is where it was', async () => {
    const page = await house.page('tablet')
    await number(page, 'temperature').focus()
    await page.keyboard.press('Enter')
    await sheet(page).getByText('The probe t1 said 24.6 °C').waitFor()
    await sheet(page).getByText('no calibration corrects it').waitFor()
    await sheet(page)
      .getByText(/failed outside 0 °C to 45 °C/)
      .waitFor()
    expect(await page.evaluate(`document.activeElement.closest('dialog') !== null`)).toBe(true)
    await page.keyboard.press('Escape')
    await sheet(page).waitFor({ state: 'hidden' })
    expect(await page.evaluate(`document.activeElement.closest('[data-lane]')?.dataset.lane`)).toBe(
      'temperature'
    )
  }, 60_000)

  test('a typed-in number says when and what a kit cannot tell, and leads on to last night', async () => {
    const page = await house.page('phone')
    await number(page, 'nitrite').tap()
    await sheet(page).getByText('Somebody tested the water 18 h ago and typed in 0.1 mg/L NO₂.').waitFor()
    await sheet(page).getByText('What fish bear where the salt in the water is not known.').waitFor()
    await page.screenshot({ path: `${screensDir}/answer-nitrite-phone.png` })
    await sheet(page).getByRole('link', { name: 'How it went last night' }).tap()
    await page.locator('.night-lane').first().waitFor()
    expect(await page.getByRole('dialog').count()).toBe(0)
  }, 60_000)

  test('an alarm that rings takes an open answer away, so that one touch says "I have seen it"', async () => {
    await fillHall(house)
    const results = [
      { quantity: 'ammonia', value: 0, unit: 'mg/L' },
      { quantity: 'nitrite', value: 0.1, unit: 'mg/L' }
    ]
    await house.ask('POST', '/api/tanks/hall/tests', { takenAt: Date.now() - 3_600_000, results })
    const page = await house.page('tablet', { path: '/#/now/hall' })
    await number(page, 'nitrite').click()
    await sheet(page).waitFor()
    await ringInHall(house)
    await sheet(page).waitFor({ state: 'hidden', timeout: 10_000 })
    await page.locator('.strip-new').first().getByRole('button', { name: 'I have seen it' }).click()
    await page.locator('.strip-new').waitFor({ state: 'hidden' })
  }, 120_000)

  test('numbers of other screens open theirs: a night, the history of tests, edges, drift, the time left', async () => {
    const page = await house.page('tablet')
    const told = async (path: string, opener: string, sayings: readonly RegExp[]): Promise<void> => {
      await page.goto(`${house.url}/#/${path}`)
      await page.locator(opener).first().click()
      await sheet(page).waitFor()
      for (const saying of sayings) await sheet(page).getByText(saying).first().waitFor()
      await page.keyboard.press('Escape')
      await sheet(page).waitFor({ state: 'hidden' })
    }
    await told('night/kitchen', '[data-lane=nh3] .night-readout', [/in \d+ steps of/, /Emerson/])
    // 0.25 mg/L as NH3 is 0.25 x 14.007 / 17.031 = 0.206 as N. Source: molar masses, IUPAC 2021.
    await told('tests/kitchen', '.entry-before .behind', [/0\.206 mg\/L counted as nitrogen/, /IUPAC/])
    await told('tank/kitchen', '.list .behind', [/lowest of all highest/, /dangerous below/, /FishBase/])
    const probes = (await house.ask('GET', '/api/probes?tank=kitchen')).body as { id: string; name: string }[]
    const ph = probes.find(({ name }) => name === 'ph1')?.id
    await told(`probes/kitchen/${ph}`, '.probe-drift-words', [/comparison/, /Kalman/])
    const alarms = (await house.ask('GET', '/api/alarms?tank=hall')).body as { id: string; kind: string }[]
    const ammonia = alarms.find(({ kind }) => kind === 'ammonia-unsafe')?.id
    await told(`alarm/hall/${ammonia}`, '.sheet p + h2 + .behind', [/reckoned anew/, /Source:/])
    await told(`alarm/hall/${ammonia}`, '.evidence .behind', [/All ammonia/])
    await told(`alarm/hall/${ammonia}`, '.alarm-head button', [/above 0\.05 mg NH3\/L/, /Emerson/])
    await told('alarms/hall', '.told-whole .behind', [
      /One alarm of this tank rang in the last 7/,
      /ISA-18\.2/
    ])
    // With new fish ammonia and nitrite are tested daily: one day after the tests of 18 hours ago.
    await told('now/kitchen', '.next-words button', [/and 24 h more/, /common practice, no source/])
    await told('upkeep/kitchen', '.task-due', [/Every day/, /common practice, no source/])
    await told('now/kitchen', '.sentence button', [/Temperature: 24\.\d °C/, /speaks first/])
    await page.goto(`${house.url}/#/night/kitchen`)
    await page.locator('[data-lane=ph] .night-readout').click()
    expect(await faultsByAxe(page, 'everything')).toEqual([])
    await page.screenshot({ path: `${screensDir}/answer-night-tablet.png` })
  }, 90_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
