import type { Page } from 'playwright-core'

/**
 * Runs before the page: answers of the house are moved ahead with the page's own clock, and the live stream is told
 * by the test. So days pass in seconds, with the page's real code, its real timers and the answers of the real house.
 */
const script = `(() => {
  const startMs = Date.now()
  const aheadMs = () => Date.now() - startMs
  const isMoment = (value) => typeof value === 'number' && value > 1.5e12 && value < 4e12
  const shifted = (value) => {
    if (isMoment(value)) return value + aheadMs()
    if (Array.isArray(value)) return value.map(shifted)
    if (value === null || typeof value !== 'object') return value
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shifted(one)]))
  }
  const asked = window.fetch.bind(window)
  const encoder = new TextEncoder()
  let stream = null
  window.tellLive = (text) => stream?.enqueue(encoder.encode(text))
  window.fetch = async (input, init) => {
    const path = String(input)
    if (path.startsWith('/api/live'))
      return new Response(new ReadableStream({ start: (controller) => { stream = controller } }), {
        headers: { 'content-type': 'text/event-stream' }
      })
    const answer = await asked(path.replaceAll(/\\d{13}/g, (ms) => String(Number(ms) - aheadMs())), init)
    if (!(answer.headers.get('content-type') ?? '').includes('json')) return answer
    return new Response(JSON.stringify(shifted(await answer.json())), { status: answer.status, headers: answer.headers })
  }
})()`

export const eventText = (event: string, data: Readonly<Record<string, unknown>>): string =>
  `event: ${event}\ndata: ${JSON.stringify(data)}\n\n`

/** What two probes and what is computed from them tell in one minute. */
export function minuteOfLife(atMs: number): string {
  const wave = Math.sin(atMs / 3_600_000)
  const of = { tankId: 'kitchen', atMs, flag: 1 }
  return [
    eventText('reading', {
      ...of,
      quantity: 'temperature',
      probe: 't1',
      value: 24.5 + wave / 4,
      unit: 'Cel',
      trendPerHour: wave / 9
    }),
    eventText('reading', {
      ...of,
      quantity: 'ph',
      probe: 'ph1',
      value: 7.3 + wave / 20,
      unit: 'pH',
      trendPerHour: 0.01
    }),
    eventText('derived', {
      ...of,
      quantity: 'nh3',
      value: 0.003 + wave / 1000,
      low: 0.001,
      high: 0.014,
      reason: 'carried'
    })
  ].join('')
}

/** To be called before the page is loaded. */
export async function quickenTime(page: Page): Promise<void> {
  await page.clock.install()
  await page.addInitScript(script)
}

export const tell = (page: Page, text: string): Promise<unknown> =>
  page.evaluate(
    (words) => (globalThis as unknown as { tellLive: (text: string) => void }).tellLive(words),
    text
  )

/** What the page holds once everything that can go is gone. */
export async function heapBytes(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page)
  try {
    for (let round = 0; round < 3; round += 1) await session.send('HeapProfiler.collectGarbage')
    return (await session.send('Runtime.getHeapUsage')).usedSize
  } finally {
    await session.detach()
  }
}
