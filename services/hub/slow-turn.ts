const everyMs = 5 * 60_000

/** What changes over hours and days is judged every five minutes, by the clock, so that a restart changes nothing. */
export const isSlowTurn = (nowMs: number): boolean => nowMs % everyMs === 0
