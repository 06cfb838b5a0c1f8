import axe from 'axe-core'
import type { Page } from 'playwright-core'

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
