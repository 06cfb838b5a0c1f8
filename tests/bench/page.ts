import type { CDPSession, Page } from 'playwright-core'
import { minuteOfLife, quickenTime, tell } from '../browser/fast-time.ts'
import { fillKitchen } from '../browser/kitchen.ts'
import { hasChromium, type OpenHouse, openHouse } from '../browser/open-house.ts'
import type { BenchFigure } from './record.ts'

/** A cheap tablet against this machine. */
const slowdown = 4
const loads = 5
const updates = 200

/** Tells the page's script to note when the first number stands in a lane. */
const noteReady = `new MutationObserver((_, watcher) => {
  if (document.querySelector('.lane-digits') === null) return
  performance.mark('lane-ready')
  watcher.disconnect()
}).observe(document, { childList: true, subtree: true })`

/** How fast the wall view comes and how little a live update costs, in Chromium with its processor slowed down. */
export async function benchPage(): Promise<readonly BenchFigure[]> {
  if (!hasChromium) return []
  const house = await openHouse()
  try {
    await fillKitchen(house)
    return [...(await coming(house)), ...(await updating(house))]
  } finally {
    await house.close()
  }
}

async function slowed(page: Page): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown })
  return session
}

async function coming(house: OpenHouse): Promise<readonly BenchFigure[]> {
  const paints: number[] = []
  const readies: number[] = []
  for (let load = 0; load < loads; load += 1) {
    const page = await house.page('tablet', { path: '/healthz' })
    await slowed(page)
    await page.addInitScript(noteReady)
    await page.goto(`${house.url}/#/now/kitchen`)
    await page.locator('.lane-digits').first().waitFor()
    await page.waitForFunction(`performance.getEntriesByName('first-contentful-paint').length > 0`)
    paints.push((await page.evaluate(startOf('first-contentful-paint'))) as number)
    readies.push((await page.evaluate(startOf('lane-ready'))) as number)
    await page.context().close()
  }
  return [
    {
      name: `wall view, first paint (a lane, still empty), processor ${slowdown} times slower`,
      value: middle(paints),
      unit: 'ms'
    },
    {
      name: `wall view, numbers shown, processor ${slowdown} times slower`,
      value: middle(readies),
      unit: 'ms'
    }
  ]
}

const startOf = (name: string): string => `performance.getEntriesByName('${name}')[0].startTime`
const middle = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? Number.NaN

/** Busy time of the main thread for one minute's events: two readings and what is computed from them, drawn. */
async function updating(house: OpenHouse): Promise<readonly BenchFigure[]> {
  const figures: BenchFigure[] = []
  for (const rate of [1, slowdown]) {
    const page = await house.page('tablet', { path: '/healthz' })
    await quickenTime(page)
    await page.goto(`${house.url}/#/now/kitchen`)
    await page.locator('.lane-digits').first().waitFor()
    const session = await page.context().newCDPSession(page)
    await session.send('Emulation.setCPUThrottlingRate', { rate })
    await session.send('Performance.enable')
    const startMs = (await page.evaluate('Date.now()')) as number
    const before = await busySeconds(session)
    for (let at = 1; at <= updates; at += 1) {
      await tell(page, minuteOfLife(startMs + at * 1000))
      await page.evaluate('new Promise((done) => setTimeout(done, 0))').catch(() => undefined)
    }
    const spent = (await busySeconds(session)) - before
    figures.push({
      name: `wall view, a live update (three events), processor ${rate === 1 ? 'as it is' : `${rate} times slower`}`,
      value: (spent / updates) * 1000,
      unit: 'ms'
    })
    await page.context().close()
  }
  return figures
}

async function busySeconds(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  const of = (name: string): number => metrics.find((metric) => metric.name === name)?.value ?? 0
  return of('ScriptDuration') + of('LayoutDuration') + of('RecalcStyleDuration')
}
