import { execFile } from 'node:child_process'

type Health = Readonly<{ lastTickMs: number | null; lastFailure: string | null }>

/** Judging that stands still for so long without a word of why is stuck. */
const stuckAfterMs = 60_000

/**
 * Whether the process still does its work. One that says why it cannot (a full disk) is not stuck: starting it
 * again would mend nothing.
 */
export const isStuck = (health: Health, given: Readonly<{ nowMs: number; startedAtMs: number }>): boolean =>
  health.lastFailure === null && given.nowMs - (health.lastTickMs ?? given.startedAtMs) > stuckAfterMs

/**
 * Tells systemd at half the time of its watchdog that the process is at work; where it falls silent, systemd starts
 * it anew. Does nothing under any other supervisor. Node opens no datagram socket of the needed kind, so the little
 * program that comes with systemd says it, and waits until systemd has heard it: one that ends at once may be gone
 * before systemd has looked which service it belongs to.
 */
export function startServiceWatchdog(
  given: Readonly<{
    environment: Readonly<Record<string, string | undefined>>
    health: () => Health
    clock: () => number
    onFault: (cause: unknown) => void
  }>
): () => void {
  const { environment, clock } = given
  const everyMs = Number(environment.WATCHDOG_USEC) / 2000
  const { NOTIFY_SOCKET, PATH } = environment
  if (NOTIFY_SOCKET === undefined || !(everyMs >= 100)) return () => undefined
  const startedAtMs = clock()
  let hasFailed = false
  const say = (): void => {
    if (isStuck(given.health(), { nowMs: clock(), startedAtMs })) return
    const env = { NOTIFY_SOCKET, PATH: PATH ?? '/usr/bin:/bin' }
    execFile('systemd-notify', ['WATCHDOG=1'], { env, timeout: 5000 }, (fault) => {
      if (fault !== null && !hasFailed) given.onFault(fault)
      hasFailed = fault !== null
    })
  }
  say()
  const timer = setInterval(say, everyMs)
  return () => clearInterval(timer)
}
