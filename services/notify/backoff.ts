const secondMs = 1000
const minuteMs = 60 * secondMs

/** Between two tries of one message on one way. */
const firstPauseMs = 5 * secondMs
/** Nobody waits longer than this for a network that is back. */
export const longestPauseMs = 15 * minuteMs

/**
 * How long to wait before the next try: doubling, capped, and spread by half to either side so that many messages
 * do not come back at the same moment. `roll` is a fraction from 0 to 1.
 */
export function pauseMs({ tries, roll }: Readonly<{ tries: number; roll: number }>): number {
  const plainMs = Math.min(longestPauseMs, firstPauseMs * 2 ** Math.min(20, Math.max(0, tries - 1)))
  return Math.min(longestPauseMs, Math.round(plainMs * (0.5 + roll)))
}

/** How a way has been doing: after three failures in a row it rests, and every message takes another way. */
export type Circuit = Readonly<{ failures: number; openUntilMs: number | null }>
export const closedCircuit: Circuit = { failures: 0, openUntilMs: null }
const failuresToOpen = 3
const firstRestMs = 30 * secondMs

export function stepCircuit(
  circuit: Circuit,
  outcome: 'delivered' | 'refused' | 'failed',
  nowMs: number
): Circuit {
  // A refusal is an answer: the way itself works.
  if (outcome !== 'failed') return closedCircuit
  const failures = circuit.failures + 1
  if (failures < failuresToOpen) return { failures, openUntilMs: null }
  const restMs = Math.min(longestPauseMs, firstRestMs * 2 ** Math.min(20, failures - failuresToOpen))
  return { failures, openUntilMs: nowMs + restMs }
}

/**
 * Whether a way rests now. Once the rest is over, one try shows whether it is back. No rest is longer than the longest:
 * such an end was set under a clock that ran ahead.
 */
export const isResting = ({ openUntilMs }: Circuit, nowMs: number): boolean =>
  openUntilMs !== null && nowMs < openUntilMs && openUntilMs - nowMs <= longestPauseMs
export const isOnTrial = (circuit: Circuit): boolean => circuit.failures >= failuresToOpen
