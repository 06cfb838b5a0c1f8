import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'

/** Level AA of WCAG 2.2 and what the makers of axe count as good practice. */
const everyRule = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

/**
 * What axe has against a page, in lines of "rule at element". The themes differ in colour alone: where the same
 * page was looked at before, `colours` asks only for contrast. No page of ours has frames, so one look in the page
 * itself is enough.
 */
export async function faultsByAxe(page: Page, ask: 'everything' | 'colours'): Promise<readonly string[]> {
  const axe = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode(true)
  const { violations } = await (ask === 'everything'
    ? axe.withTags(everyRule)
    : axe.withRules(['color-contrast'])
  ).analyze()
  return violations.map(({ id, nodes }) => `${id} at ${nodes[0]?.html}`)
}
