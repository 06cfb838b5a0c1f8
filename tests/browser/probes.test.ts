import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { excepted, numbersOn } from './bare-numbers.ts'
import { fillKitchen } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir, sizes } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
  await say('t1', 'temperature', [24.6, 24.6])
  await say('ph1', 'ph', [7.3, 7.3])
}, 120_000)
afterAll(async () => house?.close())

/** What the clock of the service says. */
async function serviceNowMs(): Promise<number> {
  const now = (await house.ask('GET', '/api/tanks/kitchen/now')).body as { atMs: number }
  return now.atMs
}

/** A board that speaks every twenty seconds from now on; then the time has passed. */
async function say(probe: string, quantity: string, values: readonly number[]): Promise<void> {
  const fromMs = await serviceNowMs()
  for (const [at, value] of values.entries())
    await house.publish(
      `shoal/kitchen/${probe}/${quantity}`,
      JSON.stringify({ value, time: (fromMs + at * 20_000) / 1000 })
    )
  await house.jump((values.length - 1) * 20_000 + 1_000)
}

/** Numbers that open no answer, on a page between two others; a bottle is called by its number. */
const bareOn = async (page: Page) => {
  const seen = await numbersOn(page, [...excepted.map(([selector]) => selector), '.cal-steps', 'h2'])
  return seen.filter(({ opens }) => !opens)
}

type Probe = { id: string; name: string }
async function idOf(name: string): Promise<string> {
  const probes = (await house.ask('GET', '/api/probes?tank=kitchen')).body as Probe[]
  return probes.find((one) => one.name === name)?.id ?? ''
}
type Calibrations = {
  calibrations: {
    id: string
    kind: string
    quantity: string
    mode: string
    slopeFrac: number | null
    zeroMv: number | null
    offset: number | null
    withdrawnAtMs: number | null
  }[]
}
const calibrationsOf = async (name: string) =>
  ((await house.ask('GET', `/api/probes/${await idOf(name)}/calibrations`)).body as Calibrations).calibrations

/** What a board shows in a buffer whose electrode has 93 % of the ideal slope and its zero 6 mV off. */
const shown = (pH: number): number => 7 + 0.93 * (pH - 7) - 6 / 59.16

describe.skipIf(!hasChromium)(`probes as instruments${needsChromium}`, () => {
  test('an electrode is calibrated in two buffers: it waits until steady, tells slope and zero, and can be taken back', async () => {
    const page = await house.page('tablet', { path: `/#/probes/kitchen/${await idOf('ph1')}` })
    await page.getByRole('link', { name: 'Calibrate' }).tap()
    await page.getByRole('button', { name: 'Start' }).tap()
    await page.getByText('Choose two or three bottles.').waitFor()
    await page.getByText('Buffer 7.00').tap()
    await page.getByText('Buffer 4.00').tap()
    await page.screenshot({ path: `${screensDir}/calibrate-bottles.png` })
    await page.getByRole('button', { name: 'Start' }).tap()

    await page.getByRole('heading', { name: 'Cup 1 of 2: buffer 7.00' }).waitFor()
    await page.getByLabel('Temperature of the cup, °C').fill('25')
    await page.getByText('At 25 °C this buffer has pH 7.00.').waitFor()
    await page.getByRole('button', { name: 'It is in the cup' }).tap()
    const take = page.getByRole('button', { name: 'Take this value' })
    expect(await take.isDisabled()).toBe(true)
    // With a wet hand nothing is scrolled: the value and its button stand in sight.
    for (const one of [page.locator('.cal-digits'), take]) {
      const box = await one.boundingBox()
      expect((box?.y ?? 0) + (box?.height ?? Number.NaN)).toBeLessThan(sizes.tablet.height - 52)
    }
    await say('ph1', 'ph', [7.2, 7.05, 6.95, 6.92, 6.91])
    await page.getByText(/Waiting: it has not been in long enough|Still creeping/).waitFor()
    expect(await take.isDisabled()).toBe(true)
    await page.screenshot({ path: `${screensDir}/calibrate-waiting.png` })
    await say(
      'ph1',
      'ph',
      Array.from({ length: 8 }, () => shown(7))
    )
    await page.getByText('Steady: this value can be taken.').waitFor()
    await page.getByText('For two minutes it must stay within 0.02').waitFor()
    expect(await bareOn(page)).toEqual([])
    await page.screenshot({ path: `${screensDir}/calibrate-steady.png`, fullPage: true })
    await take.tap()

    await page.getByRole('heading', { name: 'Cup 2 of 2: buffer 4.00' }).waitFor()
    await page.getByRole('button', { name: 'It is in the cup' }).tap()
    await say(
      'ph1',
      'ph',
      Array.from({ length: 8 }, () => shown(4))
    )
    await page.getByText('Steady: this value can be taken.').waitFor()
    await take.tap()
    await page.getByText('A worn electrode').waitFor()
    await page.getByText(/^93 % of ideal/).waitFor()
    expect(await bareOn(page)).toEqual([])
    await page.screenshot({ path: `${screensDir}/calibrate-verdict.png` })
    await page.getByRole('button', { name: 'Save this calibration' }).tap()
    await page.getByText('ph1 is calibrated.').waitFor()

    const [saved] = await calibrationsOf('ph1')
    expect(saved).toMatchObject({ kind: 'electrode', mode: 'step', withdrawnAtMs: null })
    expect(saved?.slopeFrac).toBeCloseTo(0.93, 2)
    expect(saved?.zeroMv).toBeCloseTo(6, 0)
    // While it settles in the tank again nothing rings; ten minutes later all is judged as ever.
    const now = (await house.ask('GET', '/api/tanks/kitchen/now')).body as {
      atMs: number
      maintenanceUntilMs: number
    }
    expect(now.maintenanceUntilMs).toBeLessThanOrEqual(now.atMs + 10 * 60_000)
    expect(now.maintenanceUntilMs).toBeGreaterThan(now.atMs)

    await page.getByText('counts now').waitFor()
    await page.screenshot({ path: `${screensDir}/probe-page.png`, fullPage: true })
    await page.getByRole('button', { name: /^Take back: / }).tap()
    await page.getByRole('button', { name: /^Take back: what it corrected/ }).tap()
    await page.getByText('taken back').waitFor()
    expect((await calibrationsOf('ph1'))[0]?.withdrawnAtMs).not.toBeNull()
  }, 120_000)

  test('an electrode whose slope has fallen too far is to be retired, and its slopes stand one under the other', async () => {
    const id = await idOf('ph1')
    const nowMs = await serviceNowMs()
    for (const [daysAgo, slope] of [
      [60, 0.97],
      [30, 0.93],
      [0.01, 0.86]
    ] as const) {
      const points = [
        { buffer: 'technical-7.00', tempC: 25, shownPH: 7 },
        { buffer: 'technical-4.00', tempC: 25, shownPH: 7 - 3 * slope }
      ]
      const from = Math.round(nowMs - daysAgo * 86_400_000)
      const made = await house.ask('POST', `/api/probes/${id}/calibrations`, {
        kind: 'electrode',
        from,
        points
      })
      expect(made.status).toBe(201)
    }
    const page = await house.page('tablet', { theme: 'paper', path: `/#/probes/kitchen/${id}` })
    await page.getByText('Retire this electrode: its slope is down to 86 % of ideal.').first().waitFor()
    const slopes = await page.locator('.probe-slopes b').allTextContents()
    expect(slopes.map((words) => /slope (\d+) %/.exec(words)?.[1])).toEqual(['97', '93', '86'])
    await page.locator('.probe-slopes').scrollIntoViewIfNeeded()
    await page.screenshot({ path: `${screensDir}/probe-slopes.png` })
    for (const one of await calibrationsOf('ph1'))
      if (one.withdrawnAtMs === null) await house.ask('DELETE', `/api/probes/${id}/calibrations/${one.id}`)
  }, 60_000)

  test('leaving in the middle of a calibration saves nothing', async () => {
    const before = (await calibrationsOf('ph1')).length
    const page = await house.page('phone', { path: `/#/calibrate/kitchen/${await idOf('ph1')}` })
    await page.getByText('Buffer 7.00').tap()
    await page.getByText('Buffer 10.01').tap()
    await page.getByRole('button', { name: 'Start' }).tap()
    await page.getByRole('heading', { name: 'Cup 1 of 2: buffer 7.00' }).waitFor()
    await page.screenshot({ path: `${screensDir}/calibrate-cup-phone.png` })
    await page.getByRole('button', { name: /^Cancel/ }).tap()
    await page.getByRole('heading', { name: 'ph1', exact: true }).waitFor()
    expect(await calibrationsOf('ph1')).toHaveLength(before)
  }, 30_000)

  test('a temperature probe is set right beside a glass thermometer, back to the calibration before, with the keyboard alone', async () => {
    const before = { kind: 'offset', quantity: 'temperature', reference: 24.5, measured: 24.6 }
    const from = (await serviceNowMs()) - 3_600_000
    await house.ask('POST', `/api/probes/${await idOf('t1')}/calibrations`, { ...before, from })
    const page = await house.page('large', { path: `/#/calibrate/kitchen/${await idOf('t1')}` })
    await page.getByRole('heading', { name: 'Temperature, beside a glass thermometer' }).waitFor()
    const focused = () => page.evaluate('document.activeElement?.textContent ?? ""') as Promise<string>
    const tabTo = async (words: RegExp) => {
      for (let presses = 0; presses < 40; presses += 1) {
        await page.keyboard.press('Tab')
        if (words.test(await focused())) return
      }
      throw new Error(`40 presses of Tab did not reach ${words}`)
    }
    await tabTo(/^It hangs beside the probe$/)
    await page.keyboard.press('Enter')
    await page.getByLabel('The thermometer says, °C').waitFor()
    await say('t1', 'temperature', [24.6, 24.6, 24.6, 24.6])
    await say(
      't1',
      'temperature',
      Array.from({ length: 7 }, () => 24.6)
    )
    await page.getByText('Steady: this value can be taken.').waitFor()
    await page.getByLabel('The thermometer says, °C').focus()
    await page.keyboard.type('24,3')
    await page.getByText('the watch will add −0.3 °C').waitFor()
    expect(await bareOn(page)).toEqual([])
    await page.getByLabel('The thermometer says, °C').focus()
    // What stands behind the difference comes first, then from when on it counts.
    await tabTo(/the watch will add/)
    await page.keyboard.press('Tab')
    await page.keyboard.press('ArrowDown')
    await tabTo(/^Save this calibration$/)
    await page.keyboard.press('Enter')
    await page.getByText('t1 is calibrated.').waitFor()
    const [saved] = await calibrationsOf('t1')
    expect(saved).toMatchObject({ kind: 'offset', mode: 'line' })
    expect(saved?.offset).toBeCloseTo(-0.3, 6)
  }, 60_000)

  test('limits change with a reason only, and are told with it; a new electrode starts a new life', async () => {
    const offset = { kind: 'offset', quantity: 'temperature', reference: 24.4, measured: 24.6 }
    await house.ask('POST', `/api/probes/${await idOf('t1')}/calibrations`, offset)
    const page = await house.page('tablet', { path: `/#/probes/kitchen/${await idOf('t1')}` })
    await page.getByText('How it is tested').tap()
    await page.getByText('suspect outside 15 to 34 °C, failed outside 0 to 45 °C').waitFor()
    await page.getByRole('button', { name: 'Change the limits' }).tap()
    await page.getByLabel('Suspect above, °C', { exact: true }).fill('36')
    await page.getByRole('button', { name: 'Save the limits' }).tap()
    await page.getByText(/say why, for whoever looks at it later/).waitFor()
    await page.getByLabel('Why', { exact: true }).fill('discus like it warm')
    await page.screenshot({ path: `${screensDir}/probe-limits.png`, fullPage: true })
    await page.getByRole('button', { name: 'Save the limits' }).tap()
    await page.getByText('suspect outside 15 to 36 °C, failed outside 0 to 45 °C').waitFor()
    await page.getByText('discus like it warm').first().waitFor()
    await page.getByRole('button', { name: 'I put in a new electrode or sensor' }).tap()
    await page.getByLabel('Which one (if you like)').fill('bought in May')
    await page.getByRole('button', { name: 'It hangs in the water now' }).tap()
    await page.getByText('bought in May').waitFor()
    await page.getByText('of an earlier electrode or sensor').first().waitFor()
  }, 60_000)

  test('a topic that nobody owns is heard, shown by its numbers, previewed, and becomes a probe', async () => {
    const page = await house.page('tablet', { path: '/#/heard/kitchen' })
    await page.getByText('Listening until').waitFor()
    const payload = JSON.stringify({ water: { warm: 76.1, 'p/h': 7.1 }, name: 'north' })
    await house.publish('greenhouse/north', payload)
    const warm = page.getByRole('button', { name: /76\.1 \/water\/warm/ })
    await warm.waitFor({ timeout: 15_000 })
    await warm.tap()
    await page.getByText('Not possible: it would be taken for wrong.').waitFor()
    await page.getByText('°F', { exact: true }).tap()
    await page.getByText('24.5 °C now').waitFor()
    await page.getByText('As water can be.').waitFor()
    await page.getByLabel('Name of the probe').fill('north')
    await page.screenshot({ path: `${screensDir}/heard-assign.png`, fullPage: true })
    await page.getByRole('button', { name: 'Take it as this' }).tap()
    await page.getByText('Its next message is the first reading of north.').waitFor()
    await house.publish('greenhouse/north', payload)
    await page.getByRole('link', { name: 'All probes' }).tap()
    await page.getByRole('heading', { name: 'north', exact: true }).waitFor({ timeout: 15_000 })
    await page.screenshot({ path: `${screensDir}/probes-list.png`, fullPage: true })
    await page.goto(`${house.url}/#/heard/kitchen`)
    await page.getByRole('button', { name: /^Take the meaning away/ }).tap()
    await page.getByText('None yet.').waitFor()
    expect(await idOf('north')).not.toBe('')
  }, 60_000)

  test('an electrode that creeps is told with how far, how fast, how sure, and the day on which it passes the limit', async () => {
    const nowMs = await serviceNowMs()
    const day = 86_400_000
    const rows = ['time,kind,quantity,value,unit,basis,probe,flag,note']
    // It creeps by 0.1 in 30.4 days, 60 days long; each week a test of the same water says 7.2.
    for (let atMs = nowMs - 60 * day; atMs < nowMs; atMs += 600_000) {
      const sinceMs = atMs - (nowMs - 60 * day)
      const crept = (0.1 * sinceMs) / (30.436875 * day)
      // From its beginning, not from the clock: the same noise at every hour of the day.
      const noise = 0.01 * Math.sin(sinceMs / 777_000)
      rows.push(`${new Date(atMs).toISOString()},reading,ph,${(7.2 + crept + noise).toFixed(2)},pH,,slow,,`)
    }
    for (let week = 0; week < 9; week += 1) {
      const atMs = nowMs - 59 * day + week * 7 * day
      rows.push(`${new Date(atMs).toISOString()},test,ph,7.2,pH,,,,`)
    }
    const tank = { id: 'study', name: 'Study', volumeL: 60, timeZone: 'Europe/Vienna' }
    const kit = { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' }
    expect((await house.ask('POST', '/api/tanks', { ...tank, kit })).status).toBe(201)
    await house.sendCsv('study', `${rows.join('\r\n')}\r\n`)
    const probes = (await house.ask('GET', '/api/probes?tank=study')).body as Probe[]
    expect(probes).toHaveLength(1)
    const page = await house.page('tablet', { theme: 'paper', path: `/#/probes/study/${probes[0]?.id}` })
    await expect
      .poll(() => page.locator('body').textContent(), { timeout: 45_000 })
      .toMatch(/Reads 0\.(19|20|21) high, growing 0\.(09|10|11) a month, known to ±0\.\d\d\./)
    const passes = await page.getByText(/^Off by more than 0\.3 from about .* on\.$/).textContent()
    const dayOf = new Date(/about (.*) on/.exec(passes ?? '')?.[1] ?? '').getTime()
    // 0.3 at 0.1 a month is reached after 91 days of which 60 have passed.
    expect(Math.abs(dayOf - (nowMs + 31 * day))).toBeLessThan(8 * day)
    await page.getByText('From 9 tests beside it').waitFor()
    await page.screenshot({ path: `${screensDir}/probe-drift.png`, fullPage: true })
  }, 120_000)

  test('the lane marks what was doubted and what was taken for wrong, in words too', async () => {
    await say('ph1', 'ph', [7.3, 4.2, 4.2, 7.3])
    await say('t1', 'temperature', [24.6, 24.6, 85, 24.6, 24.6, -127, 24.6])
    await house.jump(60_000)
    for (const theme of ['paper', 'night'] as const) {
      const page = await house.page('tablet', { theme, path: '/#/now/kitchen' })
      await page
        .getByRole('img', { name: /Temperature over .* Readings were taken for wrong once\./ })
        .waitFor()
      await page.getByRole('img', { name: /pH over .* Readings were doubted/ }).waitFor()
      await page.screenshot({ path: `${screensDir}/flags-on-lanes-${theme}.png` })
    }
  }, 60_000)

  test('the wall says from when to when the watch itself was off', async () => {
    const page = await house.page('tablet', { path: '/#/house/kitchen' })
    // The house of this test was never off: what it would say then is put into its answer.
    const toMs = (await serviceNowMs()) - 60_000
    const off = { fromMs: toMs - 5 * 3_600_000, toMs }
    await page.route('**/api/tanks/kitchen/now', async (route) => {
      const answer = await route.fetch()
      const body = (await answer.json()) as object
      await route.fulfill({ response: answer, json: { ...body, watchOff: off } })
    })
    await page.goto(`${house.url}/#/now/kitchen`)
    await page.reload()
    const timeOf = (atMs: number) =>
      new Date(atMs).toLocaleTimeString('en-GB', {
        timeZone: 'Europe/Vienna',
        hour: '2-digit',
        minute: '2-digit'
      })
    const words = `The watch itself was off from ${timeOf(off.fromMs)} to ${timeOf(off.toMs)}: nobody looked then.`
    await page.getByText(words).waitFor({ timeout: 15_000 })
    await page.screenshot({ path: `${screensDir}/watch-was-off.png` })
  }, 60_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })

  test('one that is gone is taken out and put back by a plain button, on a tablet and a phone', async () => {
    await say('spare', 'temperature', [24.4, 24.5])
    const id = await idOf('spare')
    const isOut = async () =>
      ((await house.ask('GET', `/api/probes/${id}`)).body as { outSinceMs: number | null }).outSinceMs !==
      null
    for (const size of ['tablet', 'phone'] as const) {
      const page = await house.page(size, { path: `/#/probes/kitchen/${id}` })
      const place = page.getByRole('region', { name: 'In the tank or not' })
      await place.getByText('a new reading puts it back in').waitFor()
      await place.scrollIntoViewIfNeeded()
      await page.screenshot({ path: `${screensDir}/probe-in-${size}.png` })
      await place.getByRole('button', { name: 'Take it out' }).tap()
      await place.getByText('it is not missed or judged').waitFor()
      await page.screenshot({ path: `${screensDir}/probe-out-${size}.png` })
      expect(await isOut()).toBe(true)
      await page.getByRole('heading', { level: 1 }).scrollIntoViewIfNeeded()
      await page.getByText('Out of the tank', { exact: true }).waitFor()
      await page.screenshot({ path: `${screensDir}/probe-out-top-${size}.png` })
      await page.getByRole('link', { name: 'All probes' }).tap()
      await page.getByText('Out of the tank', { exact: true }).first().waitFor()
      await page.screenshot({ path: `${screensDir}/probe-out-list-${size}.png`, fullPage: true })
      await page.getByRole('link', { name: 'Look closer: spare' }).tap()
      await place.getByRole('button', { name: 'Put it back' }).tap()
      await place.getByRole('button', { name: 'Take it out' }).waitFor()
      expect(await isOut()).toBe(false)
      expect(await bareOn(page)).toEqual([])
    }
    expect(house.faults()).toEqual([])
  }, 60_000)
})
