import type { Point } from './points.ts'

/** The lowest and highest value of a short stretch of time. */
export type SpanBlock = Readonly<{ fromMs: number; toMs: number; min: number; max: number; count: number }>

/** The last day of a channel as short stretches. Plain data: a restart can find it again. */
export type SpanBlocks = Readonly<{ closed: readonly SpanBlock[]; open: SpanBlock | null }>

export const noBlocks: SpanBlocks = { closed: [], open: null }

/**
 * Takes the next reading in, and lets go of what is older than `keepMs`.
 * Units: milliseconds; those of the value.
 * Valid: readings in time order.
 * Source: common practice, no source.
 * Exact to: exact.
 */
export function addToBlocks(
  blocks: SpanBlocks,
  point: Point,
  size: Readonly<{ blockMs: number; keepMs: number }>
): SpanBlocks {
  const { open } = blocks
  if (open !== null && point.atMs - open.fromMs < size.blockMs)
    return {
      closed: blocks.closed,
      open: {
        fromMs: open.fromMs,
        toMs: point.atMs,
        min: Math.min(open.min, point.value),
        max: Math.max(open.max, point.value),
        count: open.count + 1
      }
    }
  return {
    closed: [...blocks.closed, ...(open === null ? [] : [open])].filter(
      (block) => block.toMs >= point.atMs - size.keepMs
    ),
    open: { fromMs: point.atMs, toMs: point.atMs, min: point.value, max: point.value, count: 1 }
  }
}

/** All stretches, the running one first, without making a list of them: a reading mostly needs the newest few. */
export function* newestFirst(blocks: SpanBlocks): Generator<SpanBlock> {
  if (blocks.open !== null) yield blocks.open
  for (let at = blocks.closed.length - 1; at >= 0; at -= 1) yield blocks.closed[at] as SpanBlock
}
