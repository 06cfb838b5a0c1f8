/**
 * How many standard deviations out so small a share of a normal distribution begins, on one side.
 * Units: none. Valid: shares above 0 and up to 0.5.
 * Source: M. Abramowitz and I. A. Stegun 1964, Handbook of Mathematical Functions, 26.2.23 (from memory).
 * Exact to: 4.5e-4.
 */
export function normalTail(share: number): number {
  const t = Math.sqrt(-2 * Math.log(share))
  const over = 2.515517 + 0.802853 * t + 0.010328 * t * t
  const under = 1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3
  return t - over / under
}
