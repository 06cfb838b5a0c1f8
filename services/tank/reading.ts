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
}>

/** A flag that takes a reading out of judgement. */
export const isOutOfJudgement = (flag: Flag): boolean => flag === 4 || flag === 9
