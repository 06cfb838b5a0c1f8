import { hourMs } from '../series/hours.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { TankRecord } from '../tank/record.ts'

/** Quantities of which a slow change over weeks is judged, and the one that explains it. */
const slow: readonly Quantity[] = ['ph', 'temperature']
const daysKept = 22

export type ProbeHours = Readonly<{
  probe: string
  quantity: Quantity
  hours: readonly Readonly<{ atMs: number; mean: number; count: number }>[]
}>

/** Whole hours of the last weeks up to a moment, from the record's roll-ups: what a restart measures slow changes by. */
export async function hoursOfRecord(
  record: Pick<TankRecord, 'probes' | 'series'>,
  ask: Readonly<{ tankId: string; beforeMs: number }>
): Promise<readonly ProbeHours[]> {
  const { tankId } = ask
  const toMs = Math.floor(ask.beforeMs / hourMs) * hourMs - 1
  const fromMs = toMs + 1 - daysKept * 24 * hourMs
  const channels = (await record.probes(tankId)).flatMap(({ name, quantities }) =>
    quantities.flatMap(({ quantity }) => (slow.includes(quantity) ? [{ probe: name, quantity }] : []))
  )
  return Promise.all(
    channels.map(async ({ probe, quantity }) => {
      const { points } = await record.series({ tankId, quantity, probe, fromMs, toMs, points: daysKept * 24 })
      const hours = points.flatMap(({ atMs, mean, count }) => (mean === null ? [] : [{ atMs, mean, count }]))
      return { probe, quantity, hours }
    })
  )
}
