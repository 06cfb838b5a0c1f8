import { setTimeout as later } from 'node:timers/promises'
import type { Page, Response } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fillEveryScreen, type Screen } from './every-screen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'
import { openPseudoLanguage } from './pseudo-language.ts'

let house: OpenHouse
let screens: readonly Screen[] = []
let language: Awaited<ReturnType<typeof openPseudoLanguage>>
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  language = await openPseudoLanguage()
  screens = await fillEveryScreen(house)
}, 120_000)
afterAll(async () => {
  await house?.close()
  language?.close()
})

/** Names of units, formulas and the product are the same in every language. */
const units = ['shoalkeeper', 'dkh', 'ppm', 'gal', 'mqtt', 'http', 'https', 'json', 'utc']
/** Months and days come from the browser, in the language of the reader, which is English still. */
const calendar = Array.from({ length: 12 }, (_, month) => new Date(2026, month, 1 + month)).flatMap((date) =>
  (['long', 'short'] as const).flatMap((length) => [
    date.toLocaleDateString('en-GB', { month: length }),
    date.toLocaleDateString('en-GB', { weekday: length })
  ])
)
const sameEverywhere = new Set([...units, ...calendar.map((name) => name.toLowerCase())])

/** All words in plain letters that a person sees or hears: texts, names for the ear, titles. */
const plainWords = `(() => {
  const found = []
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (walker.nextNode()) {
    const { parentElement: parent, data } = walker.currentNode
    if (parent.closest('code, pre, script, noscript, [lang=la]') === null) found.push(data)
  }
  for (const one of document.querySelectorAll('[aria-label], [title], [placeholder], [alt]'))
    for (const name of ['aria-label', 'title', 'placeholder', 'alt']) found.push(one.getAttribute(name) ?? '')
  return found.flatMap((text) => (text.match(/[A-Za-z]{3,}/g) ?? []).map((word) => word.toLowerCase() + ' | ' + text.trim()))
})()`

const sideways = `Math.max(0, ...[...document.querySelectorAll('h1, h2, p, a, button, input, select, label, .lane-digits, .lane-unit')]
  .filter((one) => one.offsetParent !== null && one.closest('.for-ears, .time-rule, pre, code, .nav ul') === null)
  .map((one) => Math.round(one.getBoundingClientRect().right - innerWidth)))`

/**
 * Words of the wall that lie over those of another column or of the next lane. The box of a text is higher than its
 * letters: capitals and digits of this typeface leave about a fifth of it free above and below (its own metrics).
 */
const overlaps = `(() => {
  const inkOf = (one) => {
    const range = document.createRange()
    range.selectNodeContents(one)
    return [...range.getClientRects()].map(({ left, right, top, bottom, height }) =>
      ({ left, right, top: top + height / 5, bottom: bottom - height / 5 }))
  }
  const parts = [...document.querySelectorAll('.lane-digits, .lane-before, .lane-unit > span, .lane-present h2, .lane-words p')]
    .map((one) => ({ one, inks: inkOf(one) }))
  const meet = (a, b) =>
    Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1
  return parts.flatMap((a, at) => parts.slice(at + 1)
    .filter((b) => a.inks.some((ink) => b.inks.some((other) => meet(ink, other))))
    .map((b) => a.one.textContent + ' | ' + b.one.textContent))
})()`

/** Sentences and names that came from the house: what a person gave, species, sources, what an alarm says. */
function* sayingsIn(value: unknown): Generator<string> {
  // A single small word is a name between programs, and must not reach a person as it is.
  if (typeof value === 'string' && !/^[a-z0-9-]+$/.test(value)) yield value.toLowerCase()
  if (value !== null && typeof value === 'object')
    for (const one of Object.values(value)) yield* sayingsIn(one)
}

/** What the page asked for and left before it came is waited for a while only. */
function hearTheHouse(page: Page): () => Promise<ReadonlySet<string>> {
  const answers: Promise<unknown>[] = []
  page.on('response', (response: Response) => {
    if (response.url().includes('/api/') && !response.url().includes('/api/live'))
      answers.push(Promise.race([response.json().catch(() => null), later(10_000, null)]))
  })
  return async () =>
    new Set([...sayingsIn(await Promise.all(answers))].flatMap((text) => text.match(/[a-z]{3,}/g) ?? []))
}

describe.skipIf(!hasChromium)(`a second language is a file${needsChromium}`, () => {
  for (const size of ['phone', 'tablet'] as const)
    test(`in a pseudo-language a third longer no English is left, and nothing leaves the ${size}`, async () => {
      const leftovers: string[] = []
      const tooWide: string[] = []
      const onEachOther: string[] = []
      for (const as of ['keeper', 'stranger'] as const) {
        const page = await house.page(size, { as, path: '/healthz' })
        await language.speakIn(page.context())
        const fromHouse = hearTheHouse(page)
        for (const { name, path, sign } of screens.filter((screen) => screen.as === as)) {
          await page.goto(`${house.url}${path}`)
          await page.locator(sign).first().waitFor({ timeout: 20_000 })
          await page.screenshot({
            path: `${screensDir}/pseudo-${name.replaceAll(/[ ,]+/g, '-')}-${size}.png`
          })
          // What is seen was heard before.
          const seen = (await page.evaluate(plainWords)) as string[]
          const known = await fromHouse()
          for (const line of seen) {
            const word = line.slice(0, line.indexOf(' '))
            if (!known.has(word) && !sameEverywhere.has(word)) leftovers.push(`${name}: ${line}`)
          }
          for (const pair of (await page.evaluate(overlaps)) as string[]) onEachOther.push(`${name}: ${pair}`)
          const over = (await page.evaluate(sideways)) as number
          if (over > 0) tooWide.push(`${name}: ${over} px`)
        }
      }
      expect(leftovers).toEqual([])
      expect(tooWide).toEqual([])
      expect(onEachOther).toEqual([])
    }, 120_000)
})
