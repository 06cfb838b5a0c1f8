import { nernstSlope, phFromMillivolts } from '../water/electrode.ts'
import { type Answer, known, onward } from '../water/valid-range.ts'
import type { Correction } from './calibration.ts'
import type { Quantity } from './quantity.ts'

/** Where no water temperature is known: that of the laboratory, at which most boards compute. */
const assumedTempC = 25

/**
 * What a probe's raw value means under the correction in force. Millivolts become pH. A board that publishes pH has
 * taken its electrode for an ideal one at the temperature of the water, so its pH is turned back into millivolts
 * first and then read with the true line.
 * Units: in the canonical unit of the quantity; millivolts in mV come out as pH.
 * Valid: as `phFromMillivolts` for both kinds of pH; any number for the rest.
 * Source: Nernst equation; offset added last.
 * Exact to: double precision; without a temperature 10 K away from 25 degC shift pH 6 or 8 by about 0.03.
 */
export function correctedValue(
  reading: Readonly<{ quantity: Quantity; raw: number; tempC?: number | null | undefined }>,
  correction: Correction
): Answer<number> {
  const { quantity, raw } = reading
  const { slopeFrac, zeroMv, offset } = correction
  if (quantity !== 'ph' && quantity !== 'ph-millivolts') return known(raw + offset)
  // A finished pH under an untouched line is what it is, also where no formula holds.
  if (quantity === 'ph' && slopeFrac === 1 && zeroMv === 0) return known(raw + offset)
  const tempC = reading.tempC ?? assumedTempC
  const ideal = nernstSlope(tempC)
  if (!ideal.ok) return ideal
  const millivolts = quantity === 'ph' ? (7 - raw) * ideal.value : raw
  return onward(phFromMillivolts({ millivolts, tempC, slopeFrac, zeroMv }), (pH) => pH + offset)
}
