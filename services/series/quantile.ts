/**
 * The value below which a share of all values lies, straight between the two nearest ones. Null of nothing.
 * Units: those of the values; `frac` 0 to 1.
 * Valid: values sorted ascending and finite.
 * Source: R. J. Hyndman, Y. Fan 1996, Sample quantiles in statistical packages, The American Statistician
 *   50:361-365, definition 7.
 * Exact to: double precision.
 */
export function quantileOfSorted(sorted: readonly number[], frac: number): number | null {
  if (sorted.length === 0) return null
  const place = (sorted.length - 1) * Math.min(1, Math.max(0, frac))
  const below = Math.floor(place)
  const low = sorted[below] as number
  const high = sorted[Math.min(below + 1, sorted.length - 1)] as number
  return low + (high - low) * (place - below)
}
