import type { Page } from 'playwright-core'

/** A number with its unit that a person sees, the line in which it stands, and whether touching it opens an answer. */
export type SeenNumber = Readonly<{ numbers: readonly string[]; line: string; path: string; opens: boolean }>

/** Numbers that need open nothing, each with its reason. One that no screen has any more fails `numbers-open.test.ts`. */
export const excepted: readonly (readonly [selector: string, because: string])[] = [
  // Typed in by the keeper, or about to be.
  ['.pad-steps', 'the steps of the kit, to be touched'],
  ['.chip-last', 'chooses what is typed; the pad under it then opens the number'],
  ['.entry-before li > .grow', 'a diary entry, in the words of the keeper'],
  ['.night-marks .grow', 'what was typed in; an alarm opens beside it'],
  ['.choice-words', 'what can be chosen'],
  ['.field .hint', 'how a field is filled in'],
  ['form .sheet p.soft', 'how a form is filled in'],
  ['.work-page input, .work-page label', 'what is typed in to be worked out'],
  // Times that are only labels.
  ['.night-period .row', 'how long a stretch to look at'],
  ['.evidence h2', 'over which time the run goes'],
  ['.house-seen', 'when a screen was last seen'],
  // As a board sent it.
  ['.heard-number, .heard-when', 'what came on a topic, before anybody says what it is'],
  ['.payload', 'a message that was refused, word for word'],
  ['.waiting-held', 'how much is kept for a tank that does not exist yet'],
  // The answer stands beside it.
  ['.do-list, .work-cautions', 'advice that is the same whatever was measured'],
  ['.night-run .bank', 'an edge on a run that a finger moves along; the readout above opens'],
  ['.night-table', 'the numbers of a run that opens above them'],
  [
    '.work-answer, .work-how, .work-trust, .work-ranges',
    'formula, range, source and trust stand on this page'
  ],
  ['.work-brief, .work-trust-table', 'the page that tells how far to trust the numbers']
]
/**
 * Runs in the page: every visible number with a unit, or with decimals. It is touched where it stands: what lies
 * uppermost at its middle must be, or be in, something that says that it opens a dialog. What matches `excepted` is
 * left out.
 */
const look = (excepted: string): string => `(async () => {
  for (const one of document.querySelectorAll('details')) one.open = true
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))
  const number = '[-+±≈<>≤≥]?\\\\s?\\\\d+(?:[.,]\\\\d+)*'
  const units = ['°C', '°F', 'K', 'mg/L', 'µg/L', 'mmol/L', '%', 'dKH', 'dGH', 'ppm', 'pH', 'mV', 'µS/cm', 'cm', 'L', 'gal',
    'W', 'kWh', 'g', 'mL', 's', 'h', 'min', 'd', 'seconds?', 'minutes?', 'hours?', 'days?', 'weeks?', 'months?', 'times?',
    'readings?', 'comparisons?', 'tests?', 'alarms?', 'steps?']
  const pattern = new RegExp(number + '\\\\s*(?:' + units.join('|') + ')(?![\\\\p{L}\\\\d])|\\\\bpH\\\\s*' + number + '|' +
    '(?<![\\\\d:.])\\\\d+[.]\\\\d+(?![\\\\d:.])', 'gu')
  const isSeen = (one) => {
    const style = getComputedStyle(one)
    return style.visibility !== 'hidden' && style.display !== 'none' && one.getClientRects().length > 0
  }
  const lineOf = (node) => {
    let one = node.parentElement
    while (one !== document.body && getComputedStyle(one).display.startsWith('inline')) one = one.parentElement
    return one
  }
  const lines = new Map()
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (walker.nextNode()) {
    const node = walker.currentNode
    const parent = node.parentElement
    if (node.data.trim() === '' || parent.closest('script, style, noscript, .for-ears, dialog') !== null || !isSeen(parent)) continue
    const line = lineOf(node)
    lines.set(line, [...(lines.get(line) ?? []), node])
  }
  /** A unit may stand in another text than its digits: the digits are what is touched. */
  const opensAt = (nodes, at) => {
    let start = 0
    for (const node of nodes) {
      const within = at - start
      if (within < node.data.length) {
        const range = document.createRange()
        range.setStart(node, within)
        range.setEnd(node, within + 1)
        node.parentElement.scrollIntoView({ block: 'center', behavior: 'instant' })
        const { left, right, top, bottom } = range.getBoundingClientRect()
        const touched = document.elementFromPoint((left + right) / 2, (top + bottom) / 2)
        return touched !== null && touched.closest('[aria-haspopup=dialog]') !== null
      }
      start += node.data.length + 1
    }
    return false
  }
  const found = []
  for (const [line, all] of lines) {
    const nodes = all.filter((node) => ${excepted === '' ? 'true' : `node.parentElement.closest(${JSON.stringify(excepted)}) === null`})
    const text = nodes.map(({ data }) => data).join(' ').replaceAll(/[\\u00a0\\u202f]/g, ' ')
    const matches = [...text.matchAll(pattern)]
    if (matches.length === 0) continue
    const path = []
    for (let one = line; one !== document.body && path.length < 4; one = one.parentElement)
      path.unshift(one.tagName.toLowerCase() + [...one.classList].map((name) => '.' + name).join(''))
    found.push({
      numbers: matches.map(([number]) => number.trim().replaceAll(/\\s+/g, ' ')),
      line: text.replaceAll(/\\s+/g, ' ').trim(),
      path: path.join(' > '),
      opens: matches.every((match) => opensAt(nodes, match.index + match[0].search(/\\d/)))
    })
  }
  return found
})()`

export const numbersOn = async (page: Page, excepted: readonly string[]): Promise<readonly SeenNumber[]> =>
  (await page.evaluate(look(excepted.join(', ')))) as readonly SeenNumber[]
