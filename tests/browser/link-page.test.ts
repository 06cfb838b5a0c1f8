import { chromium } from 'playwright-core'
import { expect, it } from 'vitest'
import { makeAlertsDouble } from '../api/alerts-double.ts'
import { openTestHouse } from '../api/open-house.ts'
import { chromiumPath, hasChromium, needsChromium } from './open-house.ts'

it.skipIf(!hasChromium)(
  `the button behind a link works in a real browser, without a session and without scripts${needsChromium}`,
  async () => {
    const alerts = makeAlertsDouble()
    const house = await openTestHouse({ alerts, listen: { host: '127.0.0.1', port: 0 } })
    const address = house.api.app.server.address()
    const port = typeof address === 'object' && address !== null ? address.port : 0
    const browser = await chromium.launch({
      executablePath: chromiumPath,
      args: ['--no-sandbox', '--disable-gpu']
    })
    try {
      const context = await browser.newContext({
        javaScriptEnabled: false,
        viewport: { width: 390, height: 844 }
      })
      const page = await context.newPage()
      await page.goto(`http://127.0.0.1:${port}/a/good`)
      expect(alerts.used).toEqual([])
      const box = await page.getByRole('button', { name: 'I have seen it' }).boundingBox()
      // The least size of a target for a thumb in this house.
      expect(box?.height ?? 0).toBeGreaterThanOrEqual(48)
      await page.getByRole('button', { name: 'I have seen it' }).click()
      expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Noted')
      expect(alerts.used).toEqual(['good 127.0.0.1'])
    } finally {
      await browser.close()
      await house.close()
    }
  },
  60_000
)
