import { createECDH } from 'node:crypto'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type HttpPeer, openHttpPeer, withStatus } from '../notify/http-peer.ts'
import { decryptPush } from '../notify/rfc8291.ts'
import { fillHall } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse } from './open-house.ts'

let house: OpenHouse
let pushService: HttpPeer
beforeAll(async () => {
  if (!hasChromium) return
  pushService = await openHttpPeer()
  pushService.answer(withStatus(201))
  house = await openHouse()
  await fillHall(house)
}, 120_000)
afterAll(async () => {
  await house?.close()
  await pushService?.close()
})

const button = (page: Page, name: string) => page.getByRole('button', { name })

describe.skipIf(!hasChromium)(`messages to a browser${needsChromium}`, () => {
  test('without a secure context the reason and the way to HTTPS stand in words, and the browser is not asked', async () => {
    const page = await house.page('phone', { path: '/nowhere.txt' })
    await page.addInitScript('Object.defineProperty(window, "isSecureContext", { value: false })')
    await page.goto(`${house.url}/#/told/hall`)
    await button(page, 'This device').tap()
    await page.getByText('browsers take messages over HTTPS alone').waitFor()
    await page.getByText('set PUBLIC_URL to its https:// address').first().waitFor()
    expect(await button(page, 'Allow messages here').count()).toBe(0)
  }, 60_000)

  test('a browser that allows them is sent a message that it can read, shows it, and a touch opens the alarm', async () => {
    const browserKeys = createECDH('prime256v1')
    browserKeys.generateKeys()
    const auth = Buffer.from('0123456789abcdef')
    const page = await house.page('phone', { path: '/nowhere.txt' })
    await page.context().grantPermissions(['notifications'], { origin: house.url })
    // The browser's own push server is on the internet: this one stands in for it, on this machine.
    await page.addInitScript(`PushManager.prototype.subscribe = async (ask) => {
      window.askedWith = ask
      return {
        endpoint: '${pushService.url}/send/this-phone',
        toJSON: () => ({
          endpoint: '${pushService.url}/send/this-phone',
          keys: { p256dh: '${browserKeys.getPublicKey('base64url')}', auth: '${auth.toString('base64url')}' }
        })
      }
    }`)
    await page.goto(`${house.url}/#/told/hall`)
    await page.getByLabel('Name', { exact: true }).fill('Phone')
    await button(page, 'This device').tap()
    await button(page, 'Allow messages here').tap()
    await page.getByText('This browser is on the list.').waitFor()
    await button(page, 'Save').tap()
    await page.getByText('Saved: Phone').waitFor()
    const overview = (await house.ask('GET', '/api/alerts')).body as { push: { publicKey: string } }
    const asked = await page.evaluate(
      '[window.askedWith.userVisibleOnly, btoa(String.fromCharCode(...window.askedWith.applicationServerKey))]'
    )
    expect(asked).toEqual([true, Buffer.from(overview.push.publicKey, 'base64url').toString('base64')])

    const people = (await house.ask('GET', '/api/contacts')).body as {
      id: string
      name: string
      ways: { id: string }[]
    }[]
    const phone = people.find(({ name }) => name === 'Phone')
    // A real push server is not in the home network; the one of this test is.
    await house.ask('PUT', `/api/contacts/${phone?.id}`, {
      ...{ name: 'Phone', timeZone: 'Europe/Vienna', quietHours: null },
      ways: [{ id: phone?.ways[0]?.id, kind: 'push', allowPrivate: true }]
    })
    await house.ask('POST', '/api/alerts/test')
    const read = (index: number) =>
      decryptPush(pushService.heard[index]?.body ?? Buffer.alloc(0), browserKeys, auth)
    expect(pushService.heard.length).toBe(1)
    expect(JSON.parse(read(0))).toMatchObject({ title: 'Trial: your watch can reach you', page: '/#/told' })

    // Handed to the browser as its push server would hand it over.
    const worker = page.context().serviceWorkers()[0]
    if (worker === undefined) throw new Error('no service worker runs')
    expect(new URL(worker.url()).pathname).toBe('/sw.js')
    const message = JSON.stringify({ ...JSON.parse(read(0)), tag: 'a1', page: '/#/alarms/hall' })
    const shown = await worker.evaluate(async (text) => {
      const scope = globalThis as unknown as {
        registration: { getNotifications: () => Promise<{ title: string; body: string; tag: string }[]> }
        dispatchEvent: (event: Event) => boolean
      }
      const Push = (globalThis as unknown as { PushEvent: new (name: string, given: object) => Event })
        .PushEvent
      scope.dispatchEvent(new Push('push', { data: text }))
      for (let tries = 0; tries < 50; tries += 1) {
        const list = await scope.registration.getNotifications()
        if (list.length > 0) return list.map(({ title, body, tag }) => ({ title, body, tag }))
        await new Promise((done) => setTimeout(done, 100))
      }
      return []
    }, message)
    expect(shown).toEqual([
      { title: 'Trial: your watch can reach you', body: JSON.parse(read(0)).body, tag: 'a1' }
    ])
    await worker.evaluate(async () => {
      const scope = globalThis as unknown as {
        registration: { getNotifications: () => Promise<unknown[]> }
        dispatchEvent: (event: Event) => boolean
      }
      const Touch = (
        globalThis as unknown as { NotificationEvent: new (name: string, given: object) => Event }
      ).NotificationEvent
      const [notification] = await scope.registration.getNotifications()
      scope.dispatchEvent(new Touch('notificationclick', { notification }))
    })
    await page.waitForURL(`${house.url}/#/alarms/hall`, { timeout: 10_000 })
  }, 60_000)

  test('the page can be installed: a manifest whose icons are there, in the sizes it says', async () => {
    const page = await house.page('phone')
    const client = await page.context().newCDPSession(page)
    const { errors, data } = (await client.send('Page.getAppManifest')) as {
      errors: unknown[]
      data?: string
    }
    expect(errors).toEqual([])
    const { installabilityErrors } = await client.send('Page.getInstallabilityErrors')
    // All windows of these tests are private ones.
    const other = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')
    expect(other).toEqual([])
    const { icons } = JSON.parse(data ?? '{}') as { icons: { src: string; sizes: string }[] }
    for (const { src, sizes } of icons) {
      const png = Buffer.from(await (await fetch(`${house.url}${src}`)).arrayBuffer())
      // PNG specification, 11.2.1: width and height stand at bytes 16 and 20.
      expect(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`).toBe(sizes)
    }
  }, 60_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})
