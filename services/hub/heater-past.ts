import { minuteMs } from '../series/minutes.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { TankRecord } from '../tank/record.ts'

/** What tells of a heater. */
export const heaterQuantities = [
  'temperature',
  'room-temperature',
  'heater-power'
] as const satisfies readonly Quantity[]
export type HeaterQuantity = (typeof heaterQuantities)[number]

/** Means of the minutes that end at `atMs`, as the leading probes told them. */
export type HeaterPast = readonly Readonly<{ quantity: HeaterQuantity; atMs: number; value: number }>[]

/** So far back a thermostat's switching is remembered. */
const daysKept = 14

/** The minutes from which a restart learns a heater's habits, up to a moment, from the record's roll-ups. */
export async function heaterPastOf(
  record: Pick<TankRecord, 'series'>,
  ask: Readonly<{ tankId: string; beforeMs: number }>
): Promise<HeaterPast> {
  const { tankId } = ask
  const toMs = Math.floor(ask.beforeMs / minuteMs) * minuteMs - 1
  const points = daysKept * 24 * 60
  const fromMs = toMs + 1 - points * minuteMs
  const lists = await Promise.all(
    heaterQuantities.map(async (quantity) => {
      const series = await record.series({ tankId, quantity, fromMs, toMs, points })
      // Typed-in temperatures stand in for a probe that is not there; a heater's rhythm does not show in them.
      if (series.stepMs !== minuteMs) return []
      return series.points.flatMap(({ atMs, mean }) =>
        mean === null ? [] : [{ quantity, atMs: atMs + minuteMs, value: mean }]
      )
    })
  )
  return lists.flat()
}
