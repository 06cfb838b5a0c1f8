import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** Two common tablets on their long side, CSS pixels: on these the wall has least room for its height. */
export const lowTablets = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 }
] as const

/**
 * What stands at the end of each lane, from top to bottom, and what is above and below: once drawn none lies over
 * another. The number and the words of a lane stand side by side, and each is looked at.
 */
export async function noneOverlaps(page: Page): Promise<void> {
  const overlaps = async (column: string) => {
    const boxes = (await page.evaluate(
      `[...document.querySelectorAll('.strips, .asides, ${column}, .lane-dry, .time-rule, .next, .toast, .nav')]
        .map((part) => [part.className, part.getBoundingClientRect()])
        .map(([name, { top, bottom }]) => ({ name, top, bottom }))
        .toSorted((a, b) => a.top - b.top)`
    )) as { name: string; top: number; bottom: number }[]
    expect(boxes.length).toBeGreaterThan(4)
    return boxes.filter(({ top }, at) => top < (boxes[at - 1]?.bottom ?? 0) - 1)
  }
  for (const column of ['.lane-present', '.lane-words'])
    await expect.poll(() => overlaps(column), { timeout: 5_000 }).toEqual([])
}
