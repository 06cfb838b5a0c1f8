import type { WatchDesk } from '../hub/desk-port.ts'
import type { TankRecord } from '../tank/record.ts'

type Reason = Readonly<{ code: string; detail: string }>
export type Health = Readonly<{ healthy: boolean; reasons: readonly Reason[] }>

/** Alarms are judged about once a second; after this long without it they are not. */
const longestPauseMs = 30_000

/**
 * Whether readings can be stored and alarms are judged. A silent probe is not ill health of the watch. The reasons
 * are fixed sentences: whoever asks has no session, and learns nothing about a tank.
 */
export async function judgeHealth(
  ask: Readonly<{
    record: Pick<TankRecord, 'health'>
    desk: Pick<WatchDesk, 'health'>
    nowMs: number
    startedAtMs: number
  }>
): Promise<Health> {
  const reasons: Reason[] = []
  const canWrite = await ask.record.health().then(
    (health) => health.canWrite,
    () => false
  )
  if (!canWrite)
    reasons.push({
      code: 'record-cannot-be-written',
      detail: 'Readings cannot be stored. Look at the free space and the state of the disk.'
    })
  const lastMs = ask.desk.health().lastTickMs ?? ask.startedAtMs
  if (ask.nowMs - lastMs > longestPauseMs)
    reasons.push({
      code: 'alarms-not-judged',
      detail: `Alarms have not been judged for ${Math.round((ask.nowMs - lastMs) / 1000)} seconds. Look into the log, and start the watch again.`
    })
  return { healthy: reasons.length === 0, reasons }
}
