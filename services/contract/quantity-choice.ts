import { qualityLimits } from '../tank/quality-limits.ts'
import { canonicalUnit, canonicalValue, isQuantity, quantities, unitsOf } from '../tank/quantity.ts'

/** What a probe can tell, and in which units a board may say it; the unit of the house first. */
export const quantityChoices: readonly Readonly<{ quantity: string; units: readonly string[] }>[] =
  quantities.map((quantity) => ({
    quantity,
    units: [canonicalUnit[quantity], ...unitsOf(quantity).filter((unit) => unit !== canonicalUnit[quantity])]
  }))

/**
 * What a published number would mean: its value in the unit of the house, and whether water can be like that.
 * Null where the unit does not fit the quantity.
 */
export function meaningOf(
  given: Readonly<{ quantity: string; unit: string; value: number }>
): Readonly<{ value: number; place: 'usual' | 'unusual' | 'impossible' }> | null {
  if (!isQuantity(given.quantity)) return null
  const value = canonicalValue(given.quantity, given.value, given.unit)
  if (value === null) return null
  const { fail, suspect } = qualityLimits[given.quantity]
  const isOutside = ([low, high]: readonly [number, number]): boolean => value < low || value > high
  if (isOutside(fail)) return { value, place: 'impossible' }
  return { value, place: suspect !== undefined && isOutside(suspect) ? 'unusual' : 'usual' }
}
