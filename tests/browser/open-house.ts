import { existsSync, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { connectAsync } from 'mqtt'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { type Ask, makeDataDir, password, removeDataDir, startHouse, until } from '../wire/house-process.ts'

export const chromiumPath = '/usr/bin/chromium'
export const hasChromium = existsSync(chromiumPath)
/** For the titles of tests that are skipped where there is no browser. */
export const needsChromium = hasChromium
  ? ''
  : ' (skipped: Chromium is missing; "sudo apt-get install -y chromium" brings it)'

export const sizes = {
  tablet: { width: 1280, height: 800 },
  large: { width: 1920, height: 1200 },
  phone: { width: 390, height: 844 }
} as const
export type Size = keyof typeof sizes
export type Theme = 'paper' | 'night'
export { password }

/** Screenshots of a run lie here; git ignores them. */
export const screensDir = 'tests/browser/screens'

export type OpenHouse = Readonly<{
  url: string
  mqttPort: number
  /** What the program has said on its console. */
  output: () => string
  /** Speaks to the house as the keeper, without a browser. */
  ask: Ask
  /** A page of its own, logged in as the keeper unless `as` says otherwise. */
  page: (
    size: Size,
    more?: Readonly<{ theme?: Theme; as?: 'keeper' | 'stranger'; path?: string }>
  ) => Promise<Page>
  /** Hands the house a CSV file, as the import page would. */
  sendCsv: (tankId: string, text: string) => Promise<void>
  /** Moves the clock of the service ahead. */
  jump: (aheadMs: number) => Promise<void>
  /** Publishes as a board does: QoS 1, answered once it is acknowledged. */
  publish: (topic: string, payload: string) => Promise<void>
  /** Errors that any page of this house wrote to its console or threw. */
  faults: () => readonly string[]
  close: () => Promise<void>
}>

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync'
]

/** The whole service as its own process on free ports with a throw-away record, and a real browser in front of it. */
export async function openHouse(
  plan: Readonly<{ env?: Readonly<Record<string, string>>; needsSetup?: boolean; verb?: string }> = {}
): Promise<OpenHouse> {
  mkdirSync(screensDir, { recursive: true })
  const dataDir = makeDataDir()
  const clockFile = join(dataDir, 'clock-ahead')
  let aheadMs = 0
  const house = await startHouse({
    dataDir,
    ...(plan.verb === undefined ? {} : { verb: plan.verb }),
    env: {
      NODE_OPTIONS: `--import=${new URL('jumping-clock.mjs', import.meta.url).href}`,
      CLOCK_FILE: clockFile,
      ...(plan.needsSetup === true ? { KEEPER_PASSWORD: '' } : {}),
      ...plan.env
    }
  })
  const browser: Browser = await chromium.launch({ executablePath: chromiumPath, args: flags })
  const ask: Ask = plan.needsSetup === true ? refuseToAsk : await house.login()
  const contexts: BrowserContext[] = []
  const faults: string[] = []
  let keeper: Awaited<ReturnType<BrowserContext['storageState']>> | null = null

  async function logInOnce(): Promise<NonNullable<typeof keeper>> {
    if (keeper !== null) return keeper
    const context = await browser.newContext()
    await context.request.post(`${house.url}/api/session`, { data: { password } })
    keeper = await context.storageState()
    await context.close()
    return keeper
  }

  return {
    url: house.url,
    mqttPort: house.mqttPort,
    output: house.output,
    ask,
    page: async (size, more = {}) => {
      const context = await browser.newContext({
        viewport: sizes[size],
        hasTouch: size !== 'large',
        timezoneId: 'Europe/Vienna',
        ...((more.as ?? 'keeper') === 'keeper' ? { storageState: await logInOnce() } : {})
      })
      contexts.push(context)
      if (more.theme !== undefined)
        await context.addInitScript(`localStorage.setItem('shoal:theme', '${more.theme}')`)
      const page = await context.newPage()
      page.on('pageerror', (error) => faults.push(error.message))
      page.on('console', (message) => {
        // A refused or lost request is told by the page itself; the browser's own line about it is no fault.
        if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text()))
          faults.push(message.text())
      })
      await page.goto(`${house.url}${more.path ?? '/'}`)
      return page
    },
    sendCsv: async (tankId, text) => {
      const context = await browser.newContext({ storageState: await logInOnce() })
      const answer = await context.request.post(`${house.url}/api/tanks/${tankId}/import`, {
        headers: { 'content-type': 'text/csv' },
        data: text
      })
      await context.close()
      if (!answer.ok()) throw new Error(`the file was refused: ${await answer.text()}`)
    },
    jump: async (moreMs) => {
      aheadMs += moreMs
      writeFileSync(clockFile, String(aheadMs))
      await until(async () => (await timeOf(ask)) > Date.now() + aheadMs - 5_000, {
        withinMs: 5_000,
        what: 'the clock of the service to jump'
      })
    },
    publish: async (topic, payload) => {
      const board = await connectAsync(`mqtt://127.0.0.1:${house.mqttPort}`, { protocolVersion: 4 })
      await board.publishAsync(topic, payload, { qos: 1 })
      await board.endAsync()
    },
    faults: () => faults,
    close: async () => {
      for (const context of contexts) await context.close().catch(() => undefined)
      await browser.close()
      await house.kill('SIGTERM')
      removeDataDir(dataDir)
    }
  }
}

/** What the service's own clock says: the present of its first tank carries it. */
async function timeOf(ask: Ask): Promise<number> {
  const tanks = (await ask('GET', '/api/tanks')).body as { id: string }[]
  const now = (await ask('GET', `/api/tanks/${tanks[0]?.id}/now`)).body as { atMs: number }
  return now.atMs
}

const refuseToAsk: Ask = async () => {
  throw new Error('this house has no password yet: set it up on the page first')
}
