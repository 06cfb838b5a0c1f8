import { type AlarmKind, probeAlarmKinds } from '../tank/alarm-names.ts'
import type { AlarmBoard } from './alarm-board.ts'
import type { Away, Channels } from './channels.ts'

/** Whether an alarm is about one probe, which it names. */
export const isOfProbe = (kind: AlarmKind): boolean => probeAlarmKinds.includes(kind)

/**
 * Alarms of a probe that was taken out of the tank go out of service, and come back with it. Done at each step of the
 * watch, so that a restart between loses nothing.
 */
export function serveProbes(
  board: AlarmBoard,
  given: Readonly<{ away: readonly Away[]; channels: Channels; nowMs: number }>
): void {
  const { away, channels, nowMs } = given
  const isKnown = (probe: string): boolean =>
    channels.quantities().some((quantity) => channels.of(quantity).some((one) => one.probe === probe))
  for (const { kind, subject, state, activationId } of board.slots()) {
    if (!isOfProbe(kind) || state === 'normal' || activationId === null) continue
    const gone = away.find((one) => one.probe === subject && one.toMs === null)
    const at = { nowMs, hasFish: true }
    if (gone !== undefined && state !== 'out-of-service')
      board.ask(activationId, { on: 'take-out-of-service', by: gone.by }, at)
    // One whose probe no longer exists stays out of service.
    else if (gone === undefined && state === 'out-of-service' && isKnown(subject))
      board.ask(activationId, { on: 'return-to-service', by: subject }, at)
  }
}

/** Alarms of probes that the record no longer knows by that name are about nobody. */
export function retireOrphans(
  board: AlarmBoard,
  given: Readonly<{ names: readonly string[]; nowMs: number }>
): void {
  for (const { kind, subject, state, activationId } of board.slots())
    if (isOfProbe(kind) && state !== 'normal' && activationId !== null && !given.names.includes(subject))
      board.ask(
        activationId,
        { on: 'take-out-of-service', by: 'the watch' },
        { nowMs: given.nowMs, hasFish: true }
      )
}
