import { canonicalUnit, canonicalValue, type Quantity, unitsOf } from '../tank/quantity.ts'
import { type Fault, quoted } from './refused.ts'

/** One value of a message, understood but not yet admitted. */
export type ParsedReading = Readonly<{
  probe: string
  quantity: Quantity
  /** In the canonical unit of the quantity. */
  value: number
  /** By the board's clock; null where the message says no absolute time. */
  deviceAtMs: number | null
  /** Without an absolute time: how far from the arrival it was measured. Zero or less, if the board is right. */
  offsetMs: number
}>

/** A published number in the unit of the house, or why not. */
export function inHouseUnit(
  given: Readonly<{ quantity: Quantity; value: number; unit: string | undefined }>
): Readonly<{ value: number }> | Readonly<{ fault: Fault }> {
  const value = canonicalValue(given.quantity, given.value, given.unit)
  if (value === null)
    return {
      fault: {
        code: 'INTAKE_BAD_UNIT',
        because: 'unit-does-not-fit',
        reason: `The unit ${quoted(given.unit ?? '')} does not fit ${given.quantity}. Use ${unitsOf(given.quantity).join(' or ')}; without a unit it is taken as ${canonicalUnit[given.quantity]}.`
      }
    }
  if (!Number.isFinite(value))
    return {
      fault: {
        code: 'INTAKE_BAD_VALUE',
        because: 'number-too-large',
        reason: `The number is too large to be kept in ${canonicalUnit[given.quantity]}.`
      }
    }
  return { value: value + 0 }
}
