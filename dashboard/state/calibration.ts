import type { NewCalibrationBody, StabilityView } from '../../services/contract/probe-entry.ts'
import { makeClientKey } from '../feed/outbox.ts'
import type { Settling } from '../feed/probe-calls.ts'
import { faultOf } from './door.ts'
import { calls, tanks } from './house.ts'
import { loadProbe } from './probe-list.ts'
import { houseNowMs } from './pulse.ts'

/** Whether a probe has settled since a moment; a refusal in words where that cannot be told. */
export async function askSettled(
  id: string,
  ask: Readonly<{ sinceMs: number; quantity: Settling }>
): Promise<Readonly<{ view: StabilityView | null; fault: string | null }>> {
  const answer = await calls.stability(id, ask)
  return { view: answer.kind === 'done' ? answer.value : null, fault: faultOf(answer) }
}

/** Saves a calibration once, however often it is touched: the same key is the same calibration. */
export async function saveCalibration(
  id: string,
  body: NewCalibrationBody,
  clientKey: string
): Promise<string | null> {
  const fault = faultOf(await calls.calibrate(id, { ...body, clientKey }))
  if (fault === null) await loadProbe(id)
  return fault
}
export const newCalibrationKey = (): string => makeClientKey()

export async function withdrawCalibration(id: string, calibrationId: string): Promise<string | null> {
  const fault = faultOf(await calls.withdrawCalibration(id, calibrationId))
  await loadProbe(id)
  return fault
}

export async function startLife(id: string, note: string): Promise<string | null> {
  const fault = faultOf(await calls.startLife(id, note === '' ? {} : { note }))
  await loadProbe(id)
  return fault
}

export async function withdrawLife(id: string, lifeId: string): Promise<string | null> {
  const fault = faultOf(await calls.withdrawLife(id, lifeId))
  await loadProbe(id)
  return fault
}

/** Whether a tank has a heater to unplug; where nobody has said, it may have one. */
export function hasHeater(tankId: string): boolean {
  const profile = tanks.value.find(({ id }) => id === tankId)?.profile
  const watts = profile?.heaters?.reduce((sum, heater) => sum + heater.watts, 0) ?? profile?.heaterW
  return watts !== 0
}

/** Tells the watch that a probe is out of its water for so long: what it says meanwhile rings no alarm. */
export async function tellHands(tankId: string, minutes: number): Promise<void> {
  await calls.post(`/api/tanks/${encodeURIComponent(tankId)}/events`, {
    kind: 'maintenance-started',
    atMs: Math.round(houseNowMs()),
    data: { minutes }
  })
}
