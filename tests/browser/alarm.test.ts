import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { wordsFor } from '../../services/alarm/words.ts'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { everyFinding } from '../alarm/every-finding.ts'
import { fillHall, ringInHall } from './kitchen.ts'
import { lowTablets, noneOverlaps } from './none-overlaps.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillHall(house)
}, 120_000)
afterAll(async () => house?.close())

/** Counts the tones that a page starts, in place of hearing them. */
const countTones = `
  window.tones = 0
  const start = OscillatorNode.prototype.start
  OscillatorNode.prototype.start = function (...given) { window.tones += 1; return start.apply(this, given) }
`

describe.skipIf(!hasChromium)(`an alarm in the house${needsChromium}`, () => {
  test('rings on the wall tablet, is acknowledged with one touch, and the phone of the keeper knows', async () => {
    const invited = (await house.ask('POST', '/api/tablets', { label: 'kitchen wall', role: 'wall' }))
      .body as {
      code: string
    }
    const wall = await house.page('tablet', { as: 'stranger', path: '/nowhere.txt' })
    await wall.addInitScript(countTones)
    await wall.goto(`${house.url}/join#${invited.code}`)
    await wall.getByRole('link', { name: 'Show the tank' }).click()
    await wall.getByText('Sound is off: touch to switch it on').click()
    await wall.getByText('Sound is on').waitFor()
    expect(await wall.evaluate('window.tones')).toBe(0)
    await wall.getByRole('link', { name: 'House' }).waitFor({ state: 'hidden' })

    await ringInHall(house)
    const strip = wall.locator('.strip-new').first()
    await strip.waitFor({ timeout: 10_000 })
    await wall.screenshot({ path: `${screensDir}/alarm-wall.png` })
    const told = await wall.getByRole('alert').first().textContent()
    expect(told).toContain('ammonia')
    await expect.poll(() => wall.evaluate('window.tones'), { timeout: 10_000 }).toBeGreaterThan(3)

    await strip.getByRole('button', { name: 'I have seen it' }).tap()
    await wall.locator('.strip-new').waitFor({ state: 'hidden' })
    await wall.locator('.strip-seen').first().waitFor()
    const rung = (await wall.evaluate('window.tones')) as number
    const phone = await house.page('phone')
    await phone.locator('.strip-seen').first().waitFor()
    await phone.locator('.strip-seen a').first().tap()
    await phone.getByRole('heading', { name: 'Do now' }).waitFor()
    await phone.getByRole('heading', { name: 'What was measured in the last 24 hours' }).waitFor()
    await phone.getByText(/^rang /).waitFor()
    await phone.getByText('by kitchen wall').waitFor()
    await phone.screenshot({ path: `${screensDir}/alarm-phone.png`, fullPage: true })
    // Critical bursts come every seven seconds: after eight a wall that still rang would have begun again.
    await wall.waitForTimeout(8_000)
    expect(await wall.evaluate('window.tones')).toBe(rung)
    await wall.reload()
    await wall.locator('.strip-seen').first().waitFor()
    expect(await wall.locator('.strip-new').count()).toBe(0)

    await phone.goto(`${house.url}/#/night/hall`)
    await phone.getByRole('button', { name: '24 hours', exact: true }).tap()
    // Late in the evening the night that was shown before holds the mark as well, and gives way.
    const marked = () =>
      phone.locator('.night-lane').evaluateAll((lanes) =>
        lanes.map((lane) => {
          const run = lane.querySelector('.night-run')?.getBoundingClientRect()
          const mark = lane.querySelector('.night-mark-alarm')?.getBoundingClientRect()
          return run !== undefined && mark !== undefined && mark.left > run.left && mark.right <= run.right
        })
      )
    await expect.poll(async () => [...new Set(await marked())], { timeout: 15_000 }).toEqual([true])
    await phone
      .locator('.night-story')
      .getByText(/Alarms: .*ammonia/i)
      .waitFor()
    await phone.screenshot({ path: `${screensDir}/alarm-night-phone.png`, fullPage: true })
  }, 150_000)

  test('two alarms at once leave every number of the lanes legible, on a tablet and on a smaller one', async () => {
    const page = await house.page('tablet', { path: '/nowhere.txt' })
    await page.route('**/api/tanks/hall/now', async (route) => {
      const answer = await route.fetch()
      const now = (await answer.json()) as { alarms: { id: string; state: string }[] }
      const alarms = ['one', 'two'].map((id) => ({ ...now.alarms[0], id, state: 'unacknowledged' }))
      await route.fulfill({ response: answer, json: { ...now, alarms } })
    })
    for (const size of lowTablets) {
      await page.setViewportSize(size)
      await page.goto(`${house.url}/#/now/hall`)
      await page.locator('.strip-new').nth(1).waitFor()
      await noneOverlaps(page)
      await page.screenshot({ path: `${screensDir}/two-alarms-${size.width}.png` })
    }
  }, 60_000)

  test('what is to be done fills no more than one screen of a phone, whichever alarm it is', async () => {
    const page = await house.page('phone', { path: '/nowhere.txt' })
    let shown = everyFinding[0]
    let raisedAgoMs = 0
    await page.route('**/api/tanks/hall/now', async (route) => {
      const answer = await route.fetch()
      const now = (await answer.json()) as { alarms: AlarmView[] }
      const alarms = now.alarms
        .filter(({ id }) => id === first?.id)
        .map((alarm) => ({
          ...alarm,
          state: 'unacknowledged',
          raisedAtMs: alarm.raisedAtMs - raisedAgoMs,
          kind: shown?.kind,
          words: wordsFor(shown?.kind ?? alarm.kind, shown?.finding ?? null, { ...given, subject: 't1' })
        }))
      await route.fulfill({ response: answer, json: { ...now, alarms } })
    })
    const [first] = ((await house.ask('GET', '/api/tanks/hall/now')).body as { alarms: AlarmView[] }).alarms
    const given = {
      hasFish: true,
      heated: true,
      kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
      nowMs: Date.now()
    } as const
    const ends: { kind: string; last: number }[] = []
    const length = ({ kind, finding }: (typeof everyFinding)[number]): number =>
      wordsFor(kind, finding, { ...given, subject: 't1' }).doNow.join(' ').length
    const longestOfKind = everyFinding
      .toSorted((a, b) => length(b) - length(a))
      .filter((one, at, all) => all.findIndex(({ kind }) => kind === one.kind) === at)
    expect(longestOfKind.length).toBeGreaterThan(20)
    for (const one of longestOfKind) {
      shown = one
      await page.goto('about:blank')
      await page.goto(`${house.url}/#/alarm/hall/${first?.id}`)
      const { doNow } = wordsFor(one.kind, one.finding, { ...given, subject: 't1' })
      await page
        .locator('.do-list li')
        .getByText(doNow.at(-1) ?? '')
        .waitFor({ timeout: 5_000 })
      const { last, bar } = (await page.evaluate(`({
        last: document.querySelector('.do-list li:last-child').getBoundingClientRect().bottom,
        bar: document.querySelector('.nav').getBoundingClientRect().top
      })`)) as { last: number; bar: number }
      expect.soft(await page.locator('.evidence figure').count(), one.kind).toBeGreaterThan(0)
      const named = `${one.kind} ${one.finding?.because ?? ''}`
      ends.push({ kind: named, last })
      expect.soft(last, named).toBeLessThanOrEqual(bar)
      if (one.kind === 'ph-crash') await page.screenshot({ path: `${screensDir}/alarm-steps-phone.png` })
    }
    const longest = ends.toSorted((a, b) => b.last - a.last)[0]
    console.log(`the longest steps end at ${Math.round(longest?.last ?? 0)} px: ${longest?.kind}`)
    await page.getByRole('heading', { name: 'When does it ring again?' }).waitFor()
    // Days later its own day is one touch away.
    raisedAgoMs = 3 * 86_400_000
    await page.goto('about:blank')
    await page.goto(`${house.url}/#/alarm/hall/${first?.id}`)
    await page.getByRole('link', { name: 'Show the 24 hours around it' }).tap()
    await page.waitForURL(/#\/night\/hall\/\d+-\d+$/)
    const [fromMs = 0, toMs = 0] = (page.url().split('/').at(-1) ?? '').split('-').map(Number)
    expect(toMs - fromMs).toBe(86_400_000)
    expect((fromMs + toMs) / 2).toBe((first?.raisedAtMs ?? 0) - raisedAgoMs)
  }, 240_000)

  test('a key that was taken away shows nothing any more', async () => {
    const list = (await house.ask('GET', '/api/tablets')).body as { id: string; label: string }[]
    const invited = (await house.ask('POST', '/api/tablets', { label: 'hall', role: 'wall' })).body as {
      code: string
    }
    const hall = await house.page('tablet', { as: 'stranger', path: `/join#${invited.code}` })
    await hall.getByRole('link', { name: 'Show the tank' }).click()
    await hall.locator('.lanes').waitFor()
    const after = (await house.ask('GET', '/api/tablets')).body as { id: string; label: string }[]
    const added = after.find((one) => !list.some((known) => known.id === one.id))
    expect(added?.label).toBe('hall')
    await house.ask('DELETE', `/api/tablets/${added?.id}`)
    await hall.getByRole('heading', { name: 'Who is there?' }).waitFor({ timeout: 40_000 })
    expect(await hall.locator('.lane').count()).toBe(0)
    await hall.goto(`${house.url}/join#${invited.code}`)
    await hall.reload()
    await hall.getByText('That did not work.').waitFor()
  }, 90_000)

  test('the password lets the keeper in, a wrong one says so', async () => {
    const page = await house.page('phone', { as: 'stranger' })
    await page.getByLabel('Password of the keeper').fill('not this one')
    await page.getByRole('button', { name: 'Log in' }).tap()
    await page.getByText('The password is not right').waitFor()
    await page.getByLabel('Password of the keeper').fill('four quiet corydoras sleep')
    await page.getByRole('button', { name: 'Log in' }).tap()
    await page.locator('.lanes').waitFor()
  }, 30_000)

  test('a day later its page still shows what was measured when it rang', async () => {
    await house.jump(25 * 3_600_000)
    const [rang] = ((await house.ask('GET', '/api/alarms?tank=hall')).body as AlarmView[]).filter(
      ({ kind }) => kind === 'ammonia-unsafe'
    )
    for (const size of ['tablet', 'phone'] as const) {
      const page = await house.page(size, { path: `/#/alarm/hall/${rang?.id}` })
      await page.getByRole('heading', { name: 'What was measured then' }).waitFor()
      await page.locator('.evidence .night-lane[data-lane="nh3"]').waitFor()
      const places = (await page.evaluate(`(() => {
        const boxOf = (part) => part.getBoundingClientRect()
        const said = boxOf(document.querySelector('.evidence-rule b')).left
        return [...document.querySelectorAll('.evidence .night-lane')].map((lane) => {
          const mark = boxOf(lane.querySelector('.night-mark-alarm')).left
          const run = boxOf(lane.querySelector('.night-run'))
          return { lane: lane.dataset.lane, frac: (mark - run.left) / (run.width - 14), apart: mark - said }
        })
      })()`)) as { lane: string; frac: number; apart: number }[]
      expect(places.map(({ lane }) => lane)).toEqual(['nh3', 'ph'])
      for (const { frac, apart } of places) {
        // The day around it: it rang in the middle.
        expect(frac).toBeCloseTo(0.5, 1)
        expect(Math.abs(apart)).toBeLessThan(4)
      }
      await page.getByRole('link', { name: 'Show the 24 hours around it' }).waitFor()
      await page.locator('.evidence').scrollIntoViewIfNeeded()
      await page.screenshot({ path: `${screensDir}/alarm-then-${size}.png` })
    }
  }, 60_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
