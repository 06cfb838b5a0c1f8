/**
 * The middle value; the mean of the two middle ones where their number is even; null of nothing.
 * Units: those of the values.
 * Valid: finite values.
 * Source: definition of the sample median.
 * Exact to: double precision.
 */
export function median(values: readonly number[]): number | null {
  if (values.length === 0) return null
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length >> 1
  const upper = sorted[half] as number
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] as number) + upper) / 2
}
