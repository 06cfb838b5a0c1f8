import type { CDPSession, Page } from 'playwright-core'
import { minuteOfLife, quickenTime, tell } from '../browser/fast-time.ts'
import { fillKitchen } from '../browser/kitchen.ts'
import { hasChromium, type OpenHouse, openHouse } from '../browser/open-house.ts'
import type { BenchFigure } from './record.ts'

/** A cheap tablet against this machine. */
const slowdown = 4
const loads = 11
const updates = 200

/**
 * Notes when the state, the temperature and the next step stand in the page, and when they have been painted: the
 * message is heard after the frame that shows them, so the figure is never too good.
 */
const noteNumbers = `new MutationObserver((_, watcher) => {
  if (!['.sentence h1', '[data-lane=temperature] .lane-digits', '.next-words'].every((part) => document.querySelector(part))) return
  watcher.disconnect()
  performance.mark('numbers-stand')
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => performance.mark('numbers-painted')
    port2.postMessage(null)
  })
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
  const stands: number[] = []
  for (let load = 0; load < loads; load += 1) {
    const page = await house.page('tablet', { path: '/healthz' })
    await slowed(page)
    await page.addInitScript(noteNumbers)
    await page.goto(`${house.url}/#/now/kitchen`)
    const [standMs, seenMs] = [await markOf(page, 'numbers-stand'), await markOf(page, 'numbers-painted')]
    const firstMs = await markOf(page, 'first-contentful-paint')
    // Where nothing was painted before the numbers stood, the first paint shows them.
    paints.push(firstMs > standMs ? firstMs : seenMs)
    stands.push(standMs)
    await page.context().close()
  }
  return [
    {
      name: `wall view, first useful paint (state, temperature, next step), processor ${slowdown} times slower`,
      value: middle(paints),
      unit: 'ms'
    },
    {
      name: `wall view, numbers in the page, still to be painted, processor ${slowdown} times slower`,
      value: middle(stands),
      unit: 'ms'
    }
  ]
}

/** When the page noted something, milliseconds after it began; waits for it. */
async function markOf(page: Page, name: string): Promise<number> {
  const handle = await page.waitForFunction((mark) => performance.getEntriesByName(mark)[0]?.startTime, name)
  return (await handle.jsonValue()) as number
}
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
