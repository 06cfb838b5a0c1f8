import type { QualityFlag } from './roll-up.ts'

/**
 * `differential`: the smaller of the two steps to the neighbours, and only where they point in opposite ways.
 * `average`: the distance from the middle of the two neighbours.
 */
export type SpikeForm = 'differential' | 'average'
export type SpikeLimits = Readonly<{
  suspect?: number | undefined
  fail?: number | undefined
  form: SpikeForm
}>

/**
 * QARTOD test 6, spike: judges a value by the one before and the one after, so the newest of a series cannot be
 * judged yet. The average form also fails the two neighbours of a very large spike; the differential form does not.
 * Units: those of the values.
 * Valid: neighbours in time order; null where one is missing.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 6 (average form);
 *   the differential form as described by the public library ioos_qc 3.0.0, spike_test.
 * Exact to: double precision; a value exactly at a limit passes.
 */
export function flagSpike(
  three: Readonly<{ before: number | null; value: number | null; after: number | null }>,
  limits: SpikeLimits
): QualityFlag {
  const { before, value, after } = three
  if (isMissing(value)) return 9
  if (isMissing(before) || isMissing(after)) return 2
  const height = heightOf({ before, value, after }, limits.form)
  if (limits.fail !== undefined && height > limits.fail) return 4
  return limits.suspect !== undefined && height > limits.suspect ? 3 : 1
}

const isMissing = (value: number | null): value is null => value === null || Number.isNaN(value)

function heightOf(
  three: Readonly<{ before: number; value: number; after: number }>,
  form: SpikeForm
): number {
  const { before, value, after } = three
  if (form === 'average') return Math.abs(value - (before + after) / 2)
  const toValue = value - before
  const fromValue = after - value
  return toValue * fromValue >= 0 ? 0 : Math.min(Math.abs(toValue), Math.abs(fromValue))
}

/**
 * The same test for a whole series: first and last are 2, a missing one 9, one beside a missing one 2.
 * Units, Valid, Source, Exact to: as `flagSpike`.
 */
export const flagSpikes = (values: readonly (number | null)[], limits: SpikeLimits): readonly QualityFlag[] =>
  values.map((value, at) =>
    flagSpike({ before: values[at - 1] ?? null, value, after: values[at + 1] ?? null }, limits)
  )
