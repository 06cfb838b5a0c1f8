/** A count over some years: its rate, and between which rates it lies with 95 % probability. */
export type Poisson = Readonly<{ count: number; perYear: number; low: number; high: number }>

/**
 * The exact interval of a Poisson rate.
 * Source: F. Garwood 1936, Fiducial limits for the Poisson distribution, Biometrika 28:437-442; solved here by
 *   halving, as the sums are short.
 */
export function poisson(count: number, years: number): Poisson {
  const tail = 0.025
  const low = count === 0 ? 0 : solve((mean) => 1 - cumulative(count - 1, mean) - tail)
  const high = solve((mean) => tail - cumulative(count, mean))
  return { count, perYear: count / years, low: low / years, high: high / years }
}

/** Probability of at most so many events. */
function cumulative(count: number, mean: number): number {
  let term = Math.exp(-mean)
  let sum = term
  for (let at = 1; at <= count; at += 1) {
    term *= mean / at
    sum += term
  }
  return sum
}

/** Where a function that rises with the mean passes zero. */
function solve(rising: (mean: number) => number): number {
  let [low, high] = [0, 500]
  for (let step = 0; step < 80; step += 1) {
    const middle = (low + high) / 2
    if (rising(middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** A value below which that share of a list lies; null of an empty list. */
export function quantile(list: readonly number[], share: number): number | null {
  const sorted = list.toSorted((one, other) => one - other)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? null
}
