import { flagGrossRange } from '../series/gross-range.ts'
import { qualityLimits } from '../tank/quality-limits.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { Flag } from '../tank/reading.ts'

/** A conversion from degF or K leaves a fault code off by a rounding. */
const codeWidth = 1e-6

/** The flag that a value earns by itself, before its neighbours are asked. */
export function flagOnArrival(
  reading: Readonly<{ quantity: Quantity; value: number }>
): Readonly<{ flag: Flag; flagWhy?: string }> {
  const limits = qualityLimits[reading.quantity]
  if (limits.faultCodes?.some((code) => Math.abs(reading.value - code) < codeWidth))
    return { flag: 4, flagWhy: 'sensor-fault-code' }
  const flag = flagGrossRange(reading.value, limits)
  return flag === 1 ? { flag } : { flag, flagWhy: 'gross-range' }
}
