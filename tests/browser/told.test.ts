import ICAL from 'ical.js'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type HttpPeer, openHttpPeer } from '../notify/http-peer.ts'
import { until } from '../wire/house-process.ts'
import { faultsByAxe } from './axe-look.ts'
import { fillHall, ringInHall } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
let peer: HttpPeer
beforeAll(async () => {
  if (!hasChromium) return
  peer = await openHttpPeer()
  // Links in messages need a name by which others reach the watch.
  house = await openHouse({ env: { PUBLIC_URL: 'http://tank.example.org' } })
  await fillHall(house)
}, 120_000)
afterAll(async () => {
  await house?.close()
  await peer?.close()
})

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name })
const heard = () => peer.heard.map(({ body }) => body.toString())

describe.skipIf(!hasChromium)(`telling people${needsChromium}`, () => {
  test('from "nobody will be told" to a trial that arrives, on a phone', async () => {
    const page = await house.page('phone', { path: '/#/now/hall' })
    await page.getByRole('link', { name: 'Nobody will be told' }).tap()
    await page.getByRole('heading', { name: 'Who is told' }).waitFor()
    expect(await button(page, 'Send me an alert now').isDisabled()).toBe(true)
    await button(page, 'E-mail').tap()
    await button(page, 'Save').tap()
    await page.getByText('The name is missing.').waitFor()
    await page.getByText('The mail address is missing.').waitFor()
    await page.getByText('This watch knows no mail server yet').waitFor()
    await page.getByLabel('Name', { exact: true }).fill('Anna')
    await button(page, 'Take this way away: E-mail').tap()
    await button(page, 'Push server').tap()
    await page.getByLabel('Address, with https://').fill(`${peer.url}/anna`)
    await page.getByLabel('What is sent').fill('{{short}}\n{{link}}')
    await page.getByLabel('Headers').fill('Title: {{title}}')
    expect(await faultsByAxe(page, 'everything')).toEqual([])
    await page.screenshot({ path: `${screensDir}/told-form-phone.png`, fullPage: true })
    await button(page, 'Save').tap()
    await page.getByText('Saved: Anna').waitFor()

    // A way into this machine has to be meant.
    await button(page, 'Send me an alert now').tap()
    await page.getByText('Allow that for this way if it is meant so.').first().waitFor()
    expect(heard()).toEqual([])
    await button(page, 'Change: Anna').tap()
    await page.getByLabel('This address may lead to this machine').first().check()
    await button(page, 'Save').tap()
    await page.getByText('told at once').waitFor()
    await button(page, 'Send me an alert now').tap()
    await page.getByText('Sent', { exact: true }).waitFor()
    await page.getByText('One way is set up.').waitFor()
    expect(heard()).toEqual([expect.stringMatching(/^Trial for Anna: .* Nothing is wrong\.\n$/)])
    expect(peer.heard[0]?.headers.title).toBe('Trial: your watch can reach you')
    await page.screenshot({ path: `${screensDir}/told-tried-phone.png` })

    await page.goto(`${house.url}/#/now/hall`)
    await page.getByText('Hall').first().waitFor()
    await page.getByText('Nobody will be told').waitFor({ state: 'hidden' })
  }, 60_000)

  test('the second person’s turn, quiet hours and summary are typed once and stand in words', async () => {
    const page = await house.page('tablet', { path: '/#/told/hall' })
    await button(page, 'Add a person').click()
    await page.getByLabel('Name', { exact: true }).fill('Ben')
    await button(page, 'Webhook').click()
    await page.getByLabel('Address, with https://').fill(`${peer.url}/ben`)
    await page.getByLabel('This address may lead').first().check()
    await page.getByText('When, and for what').click()
    await page.getByLabel('Told', { exact: true }).selectOption('10')
    await page.getByLabel('For alarms that are').selectOption('critical')
    await page.getByLabel('from', { exact: true }).fill('23:30')
    await page.getByLabel('A summary each morning').check()
    await page.getByLabel('Time zone').fill('Europe/Nowhere')
    await button(page, 'Save').click()
    await page.getByText('name a time zone such as Europe/Vienna').first().waitFor()
    await page.getByLabel('Time zone').fill('America/New_York')
    await button(page, 'Save').click()
    const ben = page.locator('.person').filter({ hasText: 'Ben' })
    await ben.getByText('told after 10 min, if nobody has seen it by then').waitFor()
    await ben.getByText('quiet from 23:30 to 07:00').waitFor()
    await ben.getByText('a summary each morning at 07:30').waitFor()
    await ben.getByText('America/New York').waitFor()
    await page.getByText('The signing secret of this webhook').waitFor()
    expect(await page.locator('.person h3').allTextContents()).toEqual(['Anna', 'Ben'])
    await page.screenshot({ path: `${screensDir}/told-two-tablet.png` })
    await page.reload()
    await ben.waitFor()
    await page.getByText('The signing secret').waitFor({ state: 'hidden' })
  }, 60_000)

  test('an alarm reaches the phone, a stranger’s device acknowledges from the link, and all of it can be read after', async () => {
    peer.heard.splice(0)
    const alarmId = await ringInHall(house)
    await until(() => peer.heard.length > 0, { withinMs: 20_000, what: 'the message' })
    const link = /http:\/\/tank\.example\.org(\/a\/[\w-]{43})/.exec(heard()[0] ?? '')?.[1] ?? ''
    expect(link).not.toBe('')
    const device = await house.page('phone', { as: 'stranger', path: link })
    await button(device, 'I have seen it').tap()
    await device.getByRole('heading', { name: 'Noted' }).waitFor()

    const page = await house.page('tablet', { path: `/#/alarm/hall/${alarmId}` })
    await page.getByText('by Anna (link in a message, from 127.0.0.1)').waitFor()
    await page.goto(`${house.url}/#/messages/hall`)
    const sent = page.getByRole('listitem').filter({ hasText: 'to Anna' }).first()
    await sent.getByText('sent', { exact: true }).waitFor()
    await sent.getByText('The server took it.').waitFor()
    const spared = page.getByRole('listitem').filter({ hasText: 'to Ben' }).first()
    await spared.getByText(/not needed|waits/).waitFor()
    await page.screenshot({ path: `${screensDir}/messages-tablet.png` })
  }, 120_000)

  test('upkeep is done by a touch, taken back by another, and read by a calendar until its address is taken back', async () => {
    const page = await house.page('phone', { path: '/#/upkeep/hall' })
    const seals = page.locator('.task').filter({ hasText: 'Look at seals and hoses' })
    await seals.getByText('Every 90 days: ').waitFor()
    await seals.getByText('It was never written down yet.').waitFor()
    await button(page, 'Done: Look at seals and hoses').tap()
    await seals.getByText('Last done today').waitFor()
    await button(page, 'Undo').tap()
    await seals.getByText('It was never written down yet.').waitFor()
    await page.getByLabel('For which calendar').fill('Telephone of Anna')
    await button(page, 'Make an address').tap()
    const address = (await page.locator('.code-line code').textContent()) ?? ''
    const read = await fetch(address)
    const events = new ICAL.Component(ICAL.parse(await read.text())).getAllSubcomponents('vevent')
    expect(events.map((event) => String(event.getFirstPropertyValue('summary')))).toContain(
      'Hall: Look at seals and hoses'
    )
    await page.screenshot({ path: `${screensDir}/upkeep-phone.png`, fullPage: true })
    await button(page, 'Take the address back: Telephone of Anna').tap()
    await page.getByText('No calendar reads this tank yet.').waitFor()
    expect((await fetch(address)).status).toBe(403)
  }, 60_000)

  test('going away makes a card for the friend, who is told to feed nothing', async () => {
    const page = await house.page('tablet', { path: '/#/away/hall' })
    await button(page, 'Save').click()
    await page.getByText('Dates, friend and whom to call are needed.').waitFor()
    await page.getByLabel('Ben', { exact: true }).check()
    await page.getByLabel('Whom to call').fill('Anna 0123 456')
    await page.getByLabel('What to look at').fill('Is the lid on?\n\nDoes the lamp burn?')
    await button(page, 'Save').click()
    await page.getByText('This holds now.').waitFor()
    await page.getByRole('link', { name: 'Show the card to print' }).click()
    await page.locator('.card li').first().waitFor()
    const lines = await page.locator('.card li').allTextContents()
    expect(lines).toContain('Look: Does the lamp burn?')
    expect(lines).toContain('Feed: nothing. The fish can go without for this time.')
    expect(lines).toContain('If something looks wrong, call: Anna 0123 456')
    await page.emulateMedia({ media: 'print' })
    expect(await page.locator('.nav').isVisible()).toBe(false)
    await page.screenshot({ path: `${screensDir}/card-print.png` })
    await page.emulateMedia({ media: 'screen' })
    await page.getByRole('link', { name: 'Back' }).click()
    await button(page, 'I am back').click()
    await button(page, 'I am back').waitFor({ state: 'hidden' })
    expect((await house.ask('GET', '/api/holiday')).body).toBeNull()
  }, 60_000)

  test('a sign of life goes to the address of the keeper’s choice', async () => {
    peer.heard.splice(0)
    const page = await house.page('tablet', { path: '/#/told/hall' })
    await page.getByText('While the watch itself is down').waitFor()
    await page.getByText('shoal/hall/alarm').waitFor()
    await page.getByLabel('Heartbeat address').fill(`${peer.url}/alive`)
    await page.getByLabel('Every so many minutes').fill('1')
    const section = page.locator('section').filter({ hasText: 'Who watches the watch' })
    await section.getByLabel('This address may lead').check()
    await button(page, 'Set the heartbeat').click()
    await page.getByText('No sign of life has gone out yet.').waitFor()
    await until(() => peer.heard.some(({ path }) => path === '/alive'), {
      withinMs: 75_000,
      what: 'a sign of life within the next whole minute'
    })
    await button(page, 'Stop the heartbeat').click()
    await button(page, 'Stop the heartbeat').waitFor({ state: 'hidden' })
  }, 120_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
