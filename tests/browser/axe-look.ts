import axe from 'axe-core'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { screensDir, sizes } from './open-house.ts'

/** Level AA of WCAG 2.2 and what the makers of axe count as good practice. */
const everyRule = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

type Violation = Readonly<{ id: string; html: string }>

/**
 * What axe has against a page, in lines of "rule at element". The themes differ in colour alone: where the same
 * page was looked at before, `colours` asks only for contrast. No page of ours has frames, so one look in the page
 * itself is enough; axe stays in the page until it is loaded anew.
 */
export async function faultsByAxe(page: Page, ask: 'everything' | 'colours'): Promise<readonly string[]> {
  if (!(await page.evaluate('typeof axe === "object"'))) await page.evaluate(axe.source)
  const runOnly =
    ask === 'everything' ? { type: 'tag', values: everyRule } : { type: 'rule', values: ['color-contrast'] }
  const violations = (await page.evaluate(
    `axe.run(document, ${JSON.stringify({ runOnly, resultTypes: ['violations'] })}).then(({ violations }) =>
      violations.map(({ id, nodes }) => ({ id, html: nodes[0]?.html })))`
  )) as Violation[]
  return violations.map(({ id, html }) => `${id} at ${html}`)
}

/**
 * Draws a page anew at each size, on paper and at night: photographed, and asked by axe; then asked by its own two
 * scripts for targets that are too small, and for the pixels by which anything reaches over the right edge.
 */
export async function lookInEverySize(
  page: Page,
  name: string,
  ask: Readonly<{ smallTargets: string; sideways: string }>
): Promise<void> {
  for (const size of ['large', 'tablet', 'phone'] as const) {
    await page.setViewportSize(sizes[size])
    // Lanes and charts are drawn once more in the frame after they were measured.
    await page.evaluate('new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))')
    for (const theme of ['paper', 'night'] as const) {
      await page.evaluate(`document.documentElement.dataset.theme = '${theme}'`)
      const path = `${screensDir}/${name.replaceAll(/[ ,]+/g, '-')}-${size}-${theme}.jpg`
      await page.screenshot({ path, type: 'jpeg' })
      const found = await faultsByAxe(page, theme === 'paper' ? 'everything' : 'colours')
      expect({ name, size, theme, found }).toEqual({ name, size, theme, found: [] })
    }
    expect({ name, size, small: await page.evaluate(ask.smallTargets) }).toEqual({ name, size, small: [] })
    expect({ name, size, over: await page.evaluate(ask.sideways) }).toEqual({ name, size, over: 0 })
  }
}
