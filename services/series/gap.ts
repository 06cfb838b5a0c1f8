import type { QualityFlag } from './roll-up.ts'

/**
 * QARTOD test 1, gap: how long nothing has come. The two manuals differ in the flag (pH manual 4, wind manual 9),
 * so both stand here: missing after a few intervals, fail once the channel counts as dead.
 * Units: milliseconds.
 * Valid: missingMs at most failMs; a time after nowMs is no gap.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 1: NOW - TIM_STMP > TIM_INC.
 * Exact to: exact.
 */
export function flagGap(
  ask: Readonly<{ nowMs: number; newestAtMs: number | null }>,
  limits: Readonly<{ missingMs: number; failMs?: number | undefined }>
): QualityFlag {
  if (ask.newestAtMs === null) return 9
  const silentMs = ask.nowMs - ask.newestAtMs
  if (limits.failMs !== undefined && silentMs > limits.failMs) return 4
  return silentMs > limits.missingMs ? 9 : 1
}
