import type { AlarmState, Priority } from '../tank/alarm-names.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { OutboxMessage } from '../tank/message.ts'

const minuteMs = 60_000
/** So long after the first try somebody must have been reached. Our own choice, by priority. */
export const reachWithinMs: Readonly<Record<Priority, number>> = {
  critical: 3 * minuteMs,
  high: 10 * minuteMs,
  medium: 60 * minuteMs,
  low: 240 * minuteMs
}

const asksForSomebody: readonly AlarmState[] = [
  'unacknowledged',
  'returned-unacknowledged',
  'latched-unacknowledged'
]

/**
 * Whether an alarm's messages have reached nobody although they should have by now. One contact that was reached is
 * enough; an alarm that somebody has acknowledged reached somebody, too.
 */
export function judgeUndelivered(
  messages: readonly OutboxMessage[],
  given: Readonly<{ nowMs: number; state: AlarmState | null }>
): Finding | null {
  const { nowMs, state } = given
  if (state === null || !asksForSomebody.includes(state)) return null
  const latestMs = Math.max(...messages.map((message) => message.madeAtMs))
  const ring = messages.filter((message) => message.madeAtMs === latestMs)
  if (ring.length === 0 || ring.some((message) => message.state === 'delivered')) return null
  const late = ring.filter(isLate(nowMs))
  const first = late[0]
  if (first === undefined) return null
  const tries = late.reduce((sum, message) => sum + message.progress.tries, 0)
  const sinceMs = Math.min(...late.map((message) => message.progress.firstTryMs ?? message.dueAtMs))
  const why = first.fates.findLast((fate) => fate.what === 'failed' || fate.what === 'refused')?.because
  return {
    because: 'nobody-reached',
    sinceMs,
    facts: { tries, ...(why === undefined ? {} : { lastFault: why }) }
  }
}

const isLate =
  (nowMs: number) =>
  (message: OutboxMessage): boolean => {
    if (message.state === 'given-up') return true
    const sinceMs = message.progress.firstTryMs
    return (
      message.state === 'waiting' && sinceMs !== null && nowMs - sinceMs >= reachWithinMs[message.priority]
    )
  }
