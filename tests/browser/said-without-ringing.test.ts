import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { JudgedKind } from '../../services/alarm/definitions.ts'
import { wordsFor } from '../../services/alarm/words.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'
import { everyFinding } from '../alarm/every-finding.ts'
import { fillKitchen } from './kitchen.ts'
import { lowTablets, noneOverlaps } from './none-overlaps.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
}, 120_000)
afterAll(async () => house?.close())

const kinds = async () =>
  ((await house.ask('GET', '/api/tanks/kitchen/events')).body as { kind: string }[]).map(({ kind }) => kind)
const box = (page: Page, selector: string) =>
  page.evaluate(`(() => {
    const { top, bottom } = document.querySelector('${selector}').getBoundingClientRect()
    return { top, bottom }
  })()`) as Promise<{ top: number; bottom: number }>
const overflow = (page: Page) =>
  page.evaluate(
    `document.getElementById('page').scrollHeight - document.getElementById('page').clientHeight`
  ) as Promise<number>

/** An alarm as the house tells it, of what it would not find on a day of a test. */
const ringingOf = (kind: JudgedKind, finding: Finding | null) => ({
  ...{ id: 'a1', tankId: 'acid', kind, subject: 't1', state: 'unacknowledged', priority: 'high' },
  ...{ raisedAtMs: Date.now() - 60_000, clearedAtMs: null, changes: [], finding },
  ...{ acknowledgedAtMs: null, acknowledgedBy: null, shelvedUntilMs: null, ringsAgain: 'Soon.' },
  words: wordsFor(kind, finding, {
    ...{ subject: 't1', hasFish: true, heated: null, nowMs: Date.now() },
    kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' }
  })
})

describe.skipIf(!hasChromium)(`what is said without ringing${needsChromium}`, () => {
  test('hands in the tank and the filter off, one touch each on a tablet of the wall; then what is easily forgotten', async () => {
    const invited = (await house.ask('POST', '/api/tablets', { label: 'kitchen wall', role: 'wall' }))
      .body as { code: string }
    const wall = await house.page('tablet', { as: 'stranger', path: `/join#${invited.code}` })
    await wall.getByRole('link', { name: 'Show the tank' }).click()
    await wall.locator('.lane-digits').first().waitFor()
    expect(await wall.locator('.strip-notice').count()).toBe(0)

    await wall.getByRole('button', { name: 'Hands in the tank' }).tap()
    await wall.getByText('Unplug heater, filter and lamp before your hands go in').waitFor()
    // What was just done is told beside that reminder, not over it.
    await wall.locator('.toast').waitFor()
    const [toast, next, nav] = [await box(wall, '.toast'), await box(wall, '.next'), await box(wall, '.nav')]
    expect(toast.top).toBeGreaterThanOrEqual(next.bottom - 1)
    expect(toast.bottom).toBeLessThanOrEqual(nav.top + 1)
    expect(await overflow(wall)).toBe(0)
    await noneOverlaps(wall)
    await wall.screenshot({ path: `${screensDir}/hands-in-tablet.png` })

    await wall.getByRole('button', { name: 'Filter off for a moment' }).tap()
    await wall.getByRole('button', { name: 'Filter runs again' }).waitFor()
    await wall.getByRole('button', { name: 'Hands out again' }).tap()
    await wall.getByText(/The filter has been off since \d\d:\d\d\. Switch it on again/).waitFor()
    const notice = wall.locator('.strip-notice')
    await notice.waitFor()
    const said = await notice.textContent()
    for (const asked of [/heater plugged in/, /filter running/, /lid on/, /conditioner/])
      expect(said).toMatch(asked)
    expect(await overflow(wall)).toBe(0)
    await noneOverlaps(wall)
    await wall.screenshot({ path: `${screensDir}/hands-out-tablet.png` })

    await wall.getByRole('button', { name: 'Filter runs again' }).tap()
    await wall.getByRole('button', { name: 'Filter off for a moment' }).waitFor()
    const written = await kinds()
    for (const kind of ['maintenance-started', 'maintenance-ended', 'filter-stopped', 'filter-started'])
      expect(written).toContain(kind)
    await notice.getByRole('button').tap()
    await wall.getByText('For an hour after the work these are asked for').waitFor()
  }, 60_000)

  test('ammonia that waits in acid water is called locked, not safe, on the wall and among the alarms', async () => {
    await house.ask('POST', '/api/tanks', {
      id: 'acid',
      name: 'Acid',
      volumeL: 60,
      species: [{ id: 'puntius-titteya', count: 6 }],
      start: { answer: 'fish-established', atMs: Date.now() - 90 * 86_400_000 },
      kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
      timeZone: 'Europe/Vienna'
    })
    const results = [
      { quantity: 'ammonia', value: 1.5, unit: 'mg/L' },
      { quantity: 'nitrite', value: 0, unit: 'mg/L' },
      { quantity: 'ph', value: 6.4, unit: 'pH' },
      { quantity: 'temperature', value: 24.5, unit: 'Cel' }
    ]
    await house.ask('POST', '/api/tanks/acid/tests', { takenAt: Date.now() - 60_000, results })
    const phone = await house.page('phone', { path: '/#/now/acid' })
    const said = phone.getByText('Locked, not safe: 1.5 mg/L of ammonia (as N) waits in this acid water.')
    await said.waitFor()
    await phone.getByText('If the pH rises, it turns toxic').waitFor()
    await phone.screenshot({ path: `${screensDir}/locked-phone.png` })
    await phone.goto(`${house.url}/#/alarms/acid`)
    await said.waitFor()
    const tablet = await house.page('tablet', { path: '/#/now/acid' })
    await tablet.getByText('Locked, not safe').waitFor()
    expect(await overflow(tablet)).toBe(0)
    await noneOverlaps(tablet)
    await tablet.getByText('locked in acid water: that is not safe').waitFor()
    await tablet.screenshot({ path: `${screensDir}/locked-tablet.png` })
  }, 60_000)

  test('one alarm above four lanes with all their words leaves every number legible', async () => {
    const page = await house.page('tablet', { path: '/nowhere.txt' })
    const finding = everyFinding.find((one) => one.kind === 'ammonia-unsafe' && one.finding !== null)?.finding
    await page.route('**/api/tanks/kitchen/now', async (route) => {
      const answer = await route.fetch()
      const now = (await answer.json()) as { derived: { nh3MgL: object } }
      const nh3MgL = { ...now.derived.nh3MgL, value: 0.15, low: 0.09, high: 0.23, estimated: true }
      const ringing = ringingOf('ammonia-unsafe', finding ?? null)
      const json = {
        ...now,
        derived: { ...now.derived, nh3MgL },
        alarms: [ringing],
        sentence: ringing.words.what
      }
      await route.fulfill({ response: answer, json })
    })
    for (const size of lowTablets) {
      await page.setViewportSize(size)
      await page.goto(`${house.url}/#/now/kitchen`)
      await page.locator('.lane-out .lane-digits', { hasText: '0.15' }).waitFor()
      expect(await page.locator('.lane-present').count()).toBe(4)
      await page.screenshot({ path: `${screensDir}/one-alarm-four-lanes-${size.width}.png` })
      await noneOverlaps(page)
    }
  }, 60_000)

  test.each(['tablet', 'phone'] as const)(
    'two alarms leave it one touch away, on a %s',
    async (size) => {
      const ringing = ringingOf('probe-silent', null)
      const page = await house.page(size, { path: '/nowhere.txt' })
      await page.route('**/api/tanks/acid/now', async (route) => {
        const answer = await route.fetch()
        const now = (await answer.json()) as object
        const alarms = [ringing, { ...ringing, id: 'a2', subject: 't2' }]
        await route.fulfill({ response: answer, json: { ...now, alarms } })
      })
      await page.goto(`${house.url}/#/now/acid`)
      const more = page.getByRole('link', { name: '1 more note' })
      await more.waitFor()
      expect(await page.locator('.strip-notice').count()).toBe(0)
      if (size === 'tablet') {
        expect(await overflow(page)).toBe(0)
        await noneOverlaps(page)
      }
      await page.screenshot({ path: `${screensDir}/two-alarms-${size}.png` })
      // Our own choice, above the 44 CSS pixels of WCAG 2.2, criterion 2.5.5.
      expect((await more.boundingBox())?.height).toBeGreaterThanOrEqual(48)
      await more.tap()
      await page.getByText('Locked, not safe: 1.5 mg/L of ammonia').waitFor()
      const ends = (await page.evaluate(`(() => {
      const notice = document.querySelector('.strip-notice')
      const range = document.createRange()
      range.selectNodeContents(notice.querySelector('.strip-fact'))
      const { top } = notice.querySelector('.strip-do').getBoundingClientRect()
      return { head: range.getBoundingClientRect().bottom, rest: top }
    })()`)) as { head: number; rest: number }
      expect(ends.rest).toBeGreaterThanOrEqual(ends.head - 2)
      await page.screenshot({ path: `${screensDir}/two-alarms-list-${size}.png` })
    },
    60_000
  )

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
