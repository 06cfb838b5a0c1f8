import { afterAll, beforeAll, expect, test } from 'vitest'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (hasChromium) house = await openHouse({ needsSetup: true })
}, 120_000)
afterAll(async () => house?.close())

test.skipIf(!hasChromium)(
  `from an empty page to a probe on the wall without reading anything else${needsChromium}`,
  async () => {
    const code = /Set-up code\s+(\S+)/.exec(house.output())?.[1] ?? ''
    expect(code).not.toBe('')
    const page = await house.page('tablet', { as: 'stranger' })
    const goOn = page.getByRole('button', { name: 'Go on' })

    await goOn.click()
    await page.getByText('The code from the console is still missing.').waitFor()
    await page.getByLabel('Code from the console').fill(code)
    await page.getByLabel('Choose a password').fill('short')
    await goOn.click()
    await page.getByText('A few more characters').waitFor()
    await page.getByLabel('Choose a password').fill('eight small barbs swim')
    await goOn.click()

    await page.getByRole('heading', { name: 'Let boards and tablets on your home network in?' }).waitFor()
    await page.getByLabel('No, this computer only').check()
    await goOn.click()
    await page.getByRole('heading', { name: 'Where are you now?' }).waitFor()
    await page.getByLabel('Fish are in, and the tank is younger').check()
    await goOn.click()

    await page.getByLabel('What do you call this tank?').fill('Kitchen')
    await page.getByRole('button', { name: 'Help me work it out' }).click()
    await page.getByLabel('Length outside, cm').fill('80')
    await page.getByLabel('Depth outside, cm').fill('35')
    await page.getByLabel('Height outside, cm').fill('45')
    await page.getByRole('button', { name: 'Take it' }).click()
    const litres = Number(await page.getByLabel('Water in it, in L').inputValue())
    // 79 x 34 cm inside, 41.5 cm of water less 60 % of 4 cm of gravel: 105 L by hand.
    expect(litres).toBeGreaterThan(104)
    expect(litres).toBeLessThan(106)
    await goOn.click()

    await page.getByLabel('Watts of all heaters together').fill('100')
    await page.getByLabel('The heater is set to, in °C').fill('24,5')
    await goOn.click()
    await page.getByLabel('Scientific name').fill('cherry')
    await page.getByRole('button', { name: 'Add a species' }).click()
    await page.getByText('Two words in Latin letters').waitFor()
    // The name people use, half typed, offers the species; the count is typed or stepped.
    await page.getByRole('button', { name: /^cherry barb/ }).click()
    await page.getByText('Puntius titteya', { exact: true }).waitFor()
    const count = page.getByRole('textbox', { name: 'How many: Puntius titteya' })
    await count.fill('7')
    await page.getByRole('button', { name: 'One more' }).click()
    expect(await count.inputValue()).toBe('8')
    // Typed and not added: going on must not lose it.
    await page.getByLabel('Scientific name').fill('corydoras aeneus')
    await goOn.click()
    await page.screenshot({ path: `${screensDir}/setup-kit.png` })
    await page.getByRole('button', { name: 'Make this tank' }).click()

    await page.getByText('Listening').waitFor()
    await expect(page.getByText('shoal/kitchen/t1/temperature -m 24.56').textContent()).resolves.toContain(
      `-p ${house.mqttPort}`
    )
    await page.reload()
    await page.getByText('Listening').waitFor()
    const sentAtMs = performance.now()
    await house.publish('shoal/kitchen/t1/temperature', '24.56')
    await page.getByText('There it is: 24.6 °C').waitFor({ timeout: 15_000 })
    console.log(`publish to first sight: ${Math.round(performance.now() - sentAtMs)} ms`)
    await page.screenshot({ path: `${screensDir}/setup-heard.png` })

    await page.getByRole('button', { name: 'Go on' }).click()
    await page.getByRole('heading', { name: 'Last: who is told?' }).waitFor()
    await page.screenshot({ path: `${screensDir}/setup-told.png` })
    await page.getByRole('button', { name: 'Later: to the wall' }).click()
    await page.getByRole('link', { name: 'Nobody will be told' }).waitFor()
    const lane = page.locator('[data-lane=temperature]')
    await lane.getByText('24.6').waitFor()
    await lane.getByText(/heard (just now|\d+ s ago)/).waitFor()
    await page.locator('[data-lane=nitrite]').getByText('A nitrite test fills this lane.').waitFor()

    // What was heard in the running minute counts, and nobody says that nothing was.
    await page.goto(`${house.url}/#/night/kitchen`)
    await page.getByRole('button', { name: '24 hours', exact: true }).click()
    await page
      .locator('.night-story')
      .getByText(/The water stayed at 24\.6/)
      .waitFor()
    expect(await page.locator('.night-story').textContent()).not.toMatch(/The water: nothing was heard/)
    expect(house.faults()).toEqual([])
  },
  60_000
)
