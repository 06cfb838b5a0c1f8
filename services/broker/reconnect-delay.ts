const firstMs = 1000
const longestMs = 60_000

/**
 * How long to wait before the next try to connect: 1 s, doubling up to 60 s, each stretched or shortened by up to
 * half, so that everybody who lost the same broker does not come back in the same moment.
 *
 * Units: milliseconds; `chance` is a fraction from 0 to 1.
 */
export function reconnectDelayMs(given: Readonly<{ failures: number; chance: number }>): number {
  const planned = Math.min(longestMs, firstMs * 2 ** Math.min(given.failures, 16))
  return Math.round(planned * (0.5 + given.chance))
}
