import type { XY } from './lane-columns.ts'

/** Closer than this, rings would run into one band. */
const apartPx = 14
/** So far from the last of its kind a mark begins a new stretch, and says its word once more. */
const stretchPx = 70

/** Of many marks those that can be told apart, each with whether it begins a stretch. Pixels, from left to right. */
export function sparseMarks(
  marks: readonly XY[]
): readonly Readonly<{ x: number; y: number; isFirst: boolean }>[] {
  const drawn: { x: number; y: number; isFirst: boolean }[] = []
  let beforePx = Number.NEGATIVE_INFINITY
  for (const { x, y } of marks) {
    const isFirst = x - beforePx > stretchPx
    beforePx = x
    const last = drawn.at(-1)
    if (last !== undefined && !isFirst && x - last.x < apartPx) continue
    drawn.push({ x, y, isFirst })
  }
  return drawn
}
