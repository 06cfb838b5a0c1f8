/**
 * The middle value; the mean of the two middle ones where their number is even; null of nothing.
 * Units: those of the values.
 * Valid: finite values.
 * Source: definition of the sample median.
 * Exact to: double precision.
 */
export function median(values: readonly number[]): number | null {
  const count = values.length
  if (count === 0) return null
  const sorted = count <= shortList ? shortSorted(values) : [...values].sort((a, b) => a - b)
  const half = count >> 1
  const upper = sorted[half] as number
  return count % 2 === 1 ? upper : ((sorted[half - 1] as number) + upper) / 2
}

/** Medians of some minutes are taken many times for every reading: a short list is sorted by insertion. */
const shortList = 40

function shortSorted(values: readonly number[]): readonly number[] {
  const sorted: number[] = []
  for (const value of values) {
    let at = sorted.length
    while (at > 0 && (sorted[at - 1] as number) > value) {
      sorted[at] = sorted[at - 1] as number
      at -= 1
    }
    sorted[at] = value
  }
  return sorted
}
