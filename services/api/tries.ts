/** Counts failed tries by key, and makes the one who fails too often wait longer each time. */
export type Tries = Readonly<{
  /**
   * Answers how long this one has to wait, milliseconds; 0 = may try now. A try counts as failed from its start,
   * so that a thousand tries sent at once do not all slip through before the first has failed.
   */
  begin(key: string): number
  succeeded(key: string): void
  /** How many tries have failed over all keys since the start. */
  failedInAll(): number
}>

type Count = { failures: number; waitUntilMs: number; lastMs: number }
const freeTries = 5
const firstWaitMs = 30_000
const longestWaitMs = 15 * 60_000
const forgetAfterMs = 60 * 60_000
const mostKeys = 10_000

/** One device that fails is made to wait; every other device logs in as before. */
export function makeTries(ask: Readonly<{ clock: () => number }>): Tries {
  const counts = new Map<string, Count>()
  let inAll = 0
  return {
    begin: (key) => {
      const nowMs = ask.clock()
      const known = counts.get(key)
      const count =
        known !== undefined && nowMs - known.lastMs < forgetAfterMs
          ? known
          : { failures: 0, waitUntilMs: 0, lastMs: nowMs }
      if (count.waitUntilMs > nowMs) return count.waitUntilMs - nowMs
      count.failures += 1
      count.lastMs = nowMs
      if (count.failures >= freeTries)
        count.waitUntilMs = nowMs + Math.min(longestWaitMs, firstWaitMs * 2 ** (count.failures - freeTries))
      counts.delete(key)
      counts.set(key, count)
      inAll += 1
      for (const oldest of counts.keys()) {
        if (counts.size <= mostKeys) break
        counts.delete(oldest)
      }
      return 0
    },
    succeeded: (key) => {
      inAll -= 1
      counts.delete(key)
    },
    failedInAll: () => inAll
  }
}
