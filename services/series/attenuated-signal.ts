import type { HoledSeries } from './rate-of-change.ts'
import type { QualityFlag } from './roll-up.ts'
import { newestFirst, type SpanBlocks } from './span-blocks.ts'

export type AttenuatedLimits = Readonly<{ suspect: number; fail?: number | undefined; windowMs: number }>

/**
 * QARTOD test 10, attenuated signal: over a long time the value moves less than this water always moves. Answers 2
 * where the window holds fewer than `fewest` values.
 * Units: those of the values; milliseconds.
 * Valid: times ascending; the window is open at its old end. `sd` is the population standard deviation.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 10; window and
 *   too-few rule as in the public library ioos_qc 3.0.0, attenuated_signal_test.
 * Exact to: double precision; a spread exactly at a limit passes it.
 */
export function flagAttenuated(
  series: HoledSeries,
  limits: AttenuatedLimits & Readonly<{ measure: 'range' | 'sd'; fewest: number }>
): readonly QualityFlag[] {
  return series.values.map((value, at) => {
    if (value === null || Number.isNaN(value)) return 9
    const nowMs = series.timesMs[at] as number
    const window: number[] = []
    for (let back = at; back >= 0 && (series.timesMs[back] as number) > nowMs - limits.windowMs; back -= 1) {
      const each = series.values[back]
      if (each !== undefined && each !== null && !Number.isNaN(each)) window.push(each)
    }
    if (window.length < limits.fewest) return 2
    return flagSpread(limits.measure === 'sd' ? deviationOf(window) : rangeOf(window), limits)
  })
}

function flagSpread(spread: number, limits: AttenuatedLimits): QualityFlag {
  if (limits.fail !== undefined && spread < limits.fail) return 4
  return spread < limits.suspect ? 3 : 1
}

const rangeOf = (values: readonly number[]): number => Math.max(...values) - Math.min(...values)

function deviationOf(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length)
}

/**
 * QARTOD test 10 for live use, by the range over short stretches; 2 until they reach back over the whole window.
 * Units: those of the values; milliseconds.
 * Valid: blocks in time order.
 * Source: as `flagAttenuated`.
 * Exact to: the window is longer by up to the width of one block.
 */
export function flagAttenuatedNow(blocks: SpanBlocks, limits: AttenuatedLimits): QualityFlag {
  const oldest = blocks.closed[0] ?? blocks.open
  if (oldest === null || blocks.open === null) return 2
  const fromMs = blocks.open.toMs - limits.windowMs
  if (oldest.fromMs > fromMs) return 2
  let { min, max } = blocks.open
  for (const block of newestFirst(blocks)) {
    // More of the past can only widen the range.
    if (block.toMs <= fromMs || max - min >= limits.suspect) break
    if (block.min < min) min = block.min
    if (block.max > max) max = block.max
  }
  return flagSpread(max - min, limits)
}
