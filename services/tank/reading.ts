import type { Quantity } from './quantity.ts'

/** QARTOD quality flags: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing. */
export type Flag = 1 | 2 | 3 | 4 | 9

/** Whose clock gave the reading its time. */
export type Clock = 'device' | 'arrival'

/** One value of one probe at one moment, as received: raw stays raw, the flag lies beside it. */
export type Reading = Readonly<{
  tankId: string
  /** Name of the probe, unique within its tank. */
  probe: string
  quantity: Quantity
  /** In the canonical unit of the quantity. */
  value: number
  atMs: number
  arrivedAtMs: number
  clock: Clock
  flag: Flag
  /** Which test gave the flag, e.g. `gross-range`; absent for a pass. */
  flagWhy?: string
  /** What the watch thought of it later, where that differs from the flag of arrival. */
  judged?: Readonly<{ flag: Flag; why: string | null }> | undefined
  /** By the calibration in force at its time; absent where none changes it. Millivolts are corrected to pH. */
  corrected?: number | undefined
}>

/** The flag that counts: the later judgement where there is one. */
export const flagInForce = (reading: Pick<Reading, 'flag' | 'judged'>): Flag =>
  reading.judged?.flag ?? reading.flag

/** The value that counts: the corrected one where there is one. Millivolts stay millivolts. */
export const valueInForce = (reading: Pick<Reading, 'quantity' | 'value' | 'corrected'>): number =>
  reading.quantity === 'ph-millivolts' ? reading.value : (reading.corrected ?? reading.value)

/** A flag that takes a reading out of judgement. */
export const isOutOfJudgement = (flag: Flag): boolean => flag === 4 || flag === 9
