import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { trust } from '../../services/contract/trust.ts'
import { lookInEverySize } from './axe-look.ts'
import { fillKitchen } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
}, 120_000)
afterAll(async () => house?.close())

const answer = (page: Page) => page.getByRole('region', { name: 'Answer' })
/** The first number after some words of the answer, once it has come. */
async function numberAfter(page: Page, words: string): Promise<number> {
  await answer(page).getByText(words).first().waitFor()
  const text = (await answer(page).textContent()) ?? ''
  return Number(/-?\d+(?:\.\d+)?/.exec(text.slice(text.indexOf(words) + words.length))?.[0] ?? Number.NaN)
}
const fill = (page: Page, label: string, text: string) => page.getByLabel(label, { exact: true }).fill(text)
const choose = (page: Page, label: string, unit: string) =>
  page.getByLabel(`Unit of ${label}`, { exact: true }).selectOption({ label: unit })
const openQuestion = async (name: string, as: 'keeper' | 'stranger' = 'keeper'): Promise<Page> => {
  const page = await house.page('tablet', {
    path: `/#/work-it-out/${as === 'keeper' ? 'kitchen' : ''}/${name}`,
    as
  })
  await answer(page).waitFor()
  return page
}

describe.skipIf(!hasChromium)(`working it out${needsChromium}`, () => {
  test('every calculator that the house lists is one link away', async () => {
    const listed = (await house.ask('GET', '/api/calculate')).body as { name: string }[]
    const page = await house.page('tablet', { path: '/#/now/kitchen' })
    await page.getByRole('link', { name: 'Work it out' }).click()
    await page.getByRole('link', { name: 'How much of my ammonia is toxic?' }).waitFor()
    const hrefs = (await page.evaluate(
      `[...document.querySelectorAll('.work-groups a')].map((link) => link.hash)`
    )) as string[]
    const linked = hrefs.map((hash) => hash.split('/').at(-1)).filter((name) => name !== 'trust')
    expect(linked.toSorted()).toEqual(listed.map(({ name }) => name).toSorted())
    await page.getByRole('link', { name: 'How much salt guards against nitrite?' }).click()
    await page.getByRole('heading', { level: 1, name: 'How much salt guards against nitrite?' }).waitFor()
    await expect.poll(() => page.evaluate('document.activeElement?.tagName')).toBe('H1')
  }, 30_000)

  test('the toxic share is that of the table, with degrees Fahrenheit and a kit that counts NH3', async () => {
    const page = await openQuestion('unionised-ammonia')
    await choose(page, 'Temperature of the water', '°F')
    await fill(page, 'Temperature of the water', '77')
    await fill(page, 'pH', '8')
    expect(await answer(page).textContent()).toContain('Still needed: Ammonia by the test.')
    await fill(page, 'Ammonia by the test', '1')
    // Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379, table: 25 degC, pH 8.0: 5.38 %.
    expect(Math.abs((await numberAfter(page, 'Share of all ammonia that is toxic')) / 5.38 - 1)).toBeLessThan(
      0.007
    )
    // The kitchen's kit counts NH3: of 1 mg/L that share is toxic.
    expect(await numberAfter(page, 'Toxic ammonia')).toBeCloseTo(0.054, 3)
    await choose(page, 'Ammonia by the test', 'mg/L as N')
    // Another unit is the same water: 1 mg/L as NH3 holds 14.007/17.031 mg of nitrogen (IUPAC 2021).
    expect(Number(await page.getByLabel('Ammonia by the test', { exact: true }).inputValue())).toBeCloseTo(
      14.007 / 17.031,
      4
    )
    expect(await numberAfter(page, 'Toxic ammonia')).toBeCloseTo(0.054, 3)
    await answer(page).getByText('Too much: do something today.').waitFor()
  }, 30_000)

  test('low and high are carried, and an exact number has none', async () => {
    const page = await openQuestion('ammonia-criteria')
    await choose(page, 'Temperature of the water', '°C')
    await fill(page, 'Temperature of the water', '20')
    await fill(page, 'pH', '7')
    await answer(page).getByText('between').first().waitFor()
    await page.getByRole('button', { name: 'How sure are the numbers?' }).click()
    await fill(page, 'Temperature of the water, ± °C', '')
    await fill(page, 'pH, ±', '')
    await answer(page).getByText('between').first().waitFor({ state: 'hidden' })
    // EPA 822-R-13-001 (2013): at pH 7 and 20 degC the criterion is 17 and 1.9 mg TAN/L, counted as nitrogen.
    // The kitchen's kit counts NH3, so that test and limit compare: 17.031 g NH3 hold 14.007 g N (IUPAC 2021).
    await answer(page).getByText('mg/L as NH₃').first().waitFor()
    const asN = async (words: string) => ((await numberAfter(page, words)) * 14.007) / 17.031
    expect((await asN('as a mean of thirty days')).toPrecision(2)).toBe('1.9')
    expect((await asN('for one hour')).toPrecision(2)).toBe('17')
  }, 30_000)

  test('oxygen follows the standard table, and a buffer its certificate', async () => {
    const page = await openQuestion('oxygen-saturation')
    // EN 25814 (ISO 5814), fresh water at 101.325 kPa, in steps as an instrument manual prints them.
    for (const [tempC, mgL] of [
      ['8', 11.8],
      ['16', 9.87],
      ['22', 8.74]
    ] as const) {
      await fill(page, 'Temperature of the water', tempC)
      await expect
        .poll(async () => Math.abs((await numberAfter(page, 'Oxygen at rest with the air')) - mgL))
        .toBeLessThan(0.05)
    }
    await page.goto(`${house.url}/#/work-it-out/kitchen/buffer-ph`)
    await page.getByLabel('Which buffer').selectOption({ label: '9.18 (NIST)' })
    await choose(page, 'Its temperature', '°F')
    await fill(page, 'Its temperature', '68')
    // NBS/NIST borax standard at 20 degC (68 degF): 9.225.
    expect(await numberAfter(page, 'pH of the buffer')).toBe(9.225)
  }, 30_000)

  test('salt for a tank in gallons: chloride ten times the nitrite nitrogen', async () => {
    const page = await openQuestion('chloride-guard')
    await choose(page, 'Water in the tank', 'US gal')
    await choose(page, 'Nitrite by the test', 'mg/L as N')
    await fill(page, 'Water in the tank', '26.41721')
    await fill(page, 'Nitrite by the test', '1')
    await fill(page, 'Chloride in the water now', '0')
    // SRAC 462 (Durborow, Crosby & Brunson 1997): 10 : 1; NaCl/Cl 58.44/35.45 (IUPAC 2021); 26.41721 US gal are 100 L.
    expect(await numberAfter(page, 'Plain salt to add')).toBeCloseTo((10 * 58.44) / 35.45 / 10, 2)
    expect(await numberAfter(page, 'That is chloride')).toBe(10)
  }, 30_000)

  test('out of range is said at the field, with the range in own units and its source', async () => {
    const page = await openQuestion('ammonia-criteria')
    await choose(page, 'Temperature of the water', '°F')
    await fill(page, 'Temperature of the water', '88')
    await fill(page, 'pH', '7')
    const field = page.getByLabel('Temperature of the water', { exact: true })
    await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true')
    const told = (await field.getAttribute('aria-describedby')) ?? ''
    const words = await page.locator(`[id="${told.split(' ').at(-1)}"]`).textContent()
    // EPA 822-R-13-001 tabulates 0 to 30 degC: 32 to 86 degF.
    expect(words).toMatch(/holds only from 32 to 86 °F\. Source: EPA 822-R-13-001/)
    expect(await answer(page).textContent()).toContain('No answer')
    await fill(page, 'pH', 'seven')
    await page.getByText('A number is needed').waitFor()
    await fill(page, 'Temperature of the water', '86')
    await fill(page, 'pH', '7')
    // The number itself holds at the edge; only its doubt does not.
    await answer(page).getByText('the doubt itself reaches beyond').waitFor()
  }, 30_000)

  test('one touch starts from the present of the tank, and says where each number comes from', async () => {
    await house.publish('shoal/kitchen/t1/temperature', '24.5')
    await house.publish('shoal/kitchen/ph1/ph', '7.42')
    const page = await openQuestion('unionised-ammonia')
    await page.getByRole('button', { name: 'Start from the present values of Kitchen' }).click()
    await page.getByText(/Temperature of the water 24\.5 °C, by the probe/).waitFor()
    await page.getByText(/pH 7\.42, by the probe/).waitFor()
    await page.getByText(/Ammonia by the test 0\.25 mg\/L as NH₃, tested 18 h ago/).waitFor()
    // Emerson et al. 1975: pKa = 0.09018 + 2729.92/T, share = 1/(1 + 10^(pKa - pH)), of 0.25 mg/L as NH3.
    const share = 1 / (1 + 10 ** (0.09018 + 2729.92 / (273.15 + 24.5) - 7.42))
    expect(await numberAfter(page, 'Toxic ammonia')).toBeCloseTo(0.25 * share, 4)
    await page.goto(`${house.url}/#/work-it-out/kitchen/co2`)
    await page.getByRole('button', { name: 'Start from the present values of Kitchen' }).click()
    await page.getByText(/Carbonate hardness \(KH\) 5 dKH, as told for this tank/).waitFor()
  }, 30_000)

  test('someone without a session works it out too, and finds back to the log-in', async () => {
    const page = await house.page('phone', { as: 'stranger' })
    await page.getByRole('link', { name: 'Work something out without logging in' }).click()
    await page.getByRole('link', { name: 'How much water must I change?' }).click()
    await fill(page, 'In the tank now', '80')
    await fill(page, 'In the new water', '5')
    await fill(page, 'Wanted in the tank', '20')
    // Conservation of mass: (80 - 20)/(80 - 5).
    expect(await numberAfter(page, 'To change')).toBe(80)
    expect(await page.getByRole('button', { name: /present values/ }).count()).toBe(0)
    await page.getByRole('link', { name: 'To the log-in' }).click()
    await page.getByLabel('Password of the keeper').waitFor()
  }, 30_000)

  test('the table of trust shows every comparison that the tests wrote', async () => {
    const page = await house.page('tablet', { path: '/#/work-it-out/kitchen/trust' })
    await page.getByRole('heading', { name: 'How far to trust the numbers' }).waitFor()
    const rows = await page.getByRole('rowheader').count()
    expect(rows).toBe(trust.length)
    const oxygen = trust.find(({ about, source }) => about.startsWith('Oxygen') && source.startsWith('gsw'))
    await page
      .getByRole('row')
      .filter({ hasText: oxygen?.source ?? 'missing' })
      .filter({ hasText: `${oxygen?.worst} mg/L` })
      .waitFor()
  }, 30_000)

  const screens = [
    { name: 'work', path: '/#/work-it-out/kitchen', sign: '.work-groups', as: 'keeper' },
    {
      name: 'work ammonia',
      path: '/#/work-it-out/kitchen/unionised-ammonia',
      sign: '.work-present',
      as: 'keeper'
    },
    { name: 'work mix', path: '/#/work-it-out/kitchen/mix', sign: '.work-part', as: 'keeper' },
    { name: 'work electrode', path: '/#/work-it-out/kitchen/electrode', sign: '.work-part', as: 'keeper' },
    {
      name: 'work filter',
      path: '/#/work-it-out/kitchen/batch-nitrification',
      sign: '.work-digits',
      as: 'keeper'
    },
    { name: 'work trust', path: '/#/work-it-out/kitchen/trust', sign: '.work-trust-table', as: 'keeper' },
    { name: 'work stranger', path: '/#/work-it-out//water-change', sign: '.work-answer', as: 'stranger' }
  ] as const
  const smallTargets = `[...document.querySelectorAll('.work-page :is(button, a, .choice, select, summary, input:not([type=radio]))')]
    .filter((one) => one.offsetParent !== null)
    .map((one) => ({ height: one.getBoundingClientRect().height, words: one.textContent }))
    .filter((one) => one.height < 47.5)`
  const sideways = `Math.max(0, ...[...document.querySelectorAll('h1, h2, p, a, button, input, select, label, td, th, li, dd')]
    .filter((one) => one.offsetParent !== null && one.closest('.for-ears, .nav') === null)
    .map((one) => Math.round(one.getBoundingClientRect().right - innerWidth)))`

  test('axe finds nothing at any size on paper and at night, and every target is 48 px high', async () => {
    const keeper = await house.page('tablet', { theme: 'paper' })
    const stranger = await house.page('tablet', { theme: 'paper', as: 'stranger' })
    for (const { name, path, sign, as } of screens) {
      const page = as === 'keeper' ? keeper : stranger
      await page.goto(`${house.url}${path}`)
      await page.locator(sign).first().waitFor({ timeout: 20_000 })
      if (name === 'work ammonia') {
        await page.getByRole('button', { name: /present values/ }).click()
        await page.getByRole('button', { name: 'How sure are the numbers?' }).click()
        await page.locator('.work-digits').waitFor()
      }
      if (name === 'work filter')
        for (const one of await page.locator('.work-page summary').all()) await one.click()
      if (name === 'work stranger') await fill(page, 'In the tank now', 'much')
      await lookInEverySize(page, name, { smallTargets, sideways })
    }
  }, 240_000)

  test('with text at twice its size the phone still scrolls one way only', async () => {
    const page = await house.page('phone')
    await page.evaluate(`document.documentElement.style.fontSize = '200%'`)
    for (const { name, path, sign } of screens.filter(({ as }) => as === 'keeper')) {
      await page.goto(`${house.url}${path}`)
      await page.locator(sign).first().waitFor({ timeout: 20_000 })
      expect({ name, over: await page.evaluate(sideways) }).toEqual({ name, over: 0 })
    }
  }, 60_000)

  test('the keyboard alone gets an answer, and the answer is announced', async () => {
    const page = await openQuestion('ammonia-criteria')
    await page.getByLabel('Temperature of the water', { exact: true }).focus()
    await page.keyboard.type('20')
    await page.keyboard.press('Tab')
    await page.keyboard.press('Tab')
    await page.keyboard.type('7')
    await page.locator('.work-digits').waitFor()
    const spoken = answer(page).getByRole('status')
    expect(await spoken.getAttribute('aria-atomic')).toBe('true')
    expect(await spoken.textContent()).toContain('All ammonia, as a mean of thirty days')
  }, 30_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
