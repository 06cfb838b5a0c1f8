import type { Quantity } from '../tank/quantity.ts'
import type { Judged } from './judged.ts'

const minuteMs = 60_000
const onlyBadForMs = 10 * minuteMs
/** How far two probes in the same water may differ. Common practice, no source. */
const mayDiffer: Readonly<Partial<Record<Quantity, number>>> = { temperature: 1.5, ph: 0.5 }

/** What one probe said of late on one quantity. */
export type ProbeSaid = Readonly<{
  quantity: Quantity
  /** Newest word, whatever its flag, and newest that may be judged; null where there was none. */
  lastMs: number | null
  lastGoodMs: number | null
  /** Since when nothing good has come although it speaks; null while its newest word is good. */
  badSinceMs: number | null
  /** Median of the last half hour, and that of the probe beside it in the same water. */
  median: number | null
  beside: Readonly<{ probe: string; median: number }> | null
}>

/**
 * A probe sends only what no water can be, or disagrees with the one beside it. Of a probe that measures several
 * things the temperature is said first: it is what more rests on.
 */
export function judgeProbeImplausible(
  given: Readonly<{ said: readonly ProbeSaid[]; nowMs: number; deadband: number; stood: boolean }>
): Judged {
  const { said, nowMs, stood } = given
  if (said.length === 0) return 'cannot-tell'
  const impossible = said.flatMap(({ quantity, lastMs, badSinceMs }) =>
    lastMs !== null && badSinceMs !== null && nowMs - badSinceMs >= onlyBadForMs
      ? [{ because: 'only-impossible-values', sinceMs: badSinceMs, facts: { quantity } }]
      : []
  )
  const apart = said.flatMap(({ quantity, median, beside }) => {
    const limit = mayDiffer[quantity]
    if (limit === undefined || median === null || beside === null) return []
    const value = Math.abs(median - beside.median)
    if (value <= limit - (stood ? given.deadband : 0)) return []
    const facts = { quantity, other: beside.probe, own: median, others: beside.median }
    return [{ because: 'disagrees-with-neighbour', value, limit, facts }]
  })
  const found = [...impossible, ...apart]
  return found.find(({ facts }) => facts.quantity === 'temperature') ?? found[0] ?? null
}
