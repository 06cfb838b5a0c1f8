import type { Span } from '../series/gross-range.ts'
import type { Quantity } from './quantity.ts'

export type QualityLimits = Readonly<{
  /** Outside it the sensor or its wiring is at fault. */
  fail: Span
  /** Outside it the value is kept in judgement but marked. */
  suspect?: Span
  /** Values that a sensor type sends as a code for "I could not measure". */
  faultCodes?: readonly number[]
}>

/**
 * Gross-range limits of each quantity, in its canonical unit.
 * Source: temperature fault codes 85 and -127: DS18B20 data sheet (85 °C is the register at power-on) and the
 * usual driver's answer for a sensor that is gone (from memory). All spans: common practice, no source.
 */
export const qualityLimits: Readonly<Record<Quantity, QualityLimits>> = {
  temperature: { fail: [0, 45], suspect: [15, 34], faultCodes: [85, -127] },
  'room-temperature': { fail: [-20, 60], suspect: [5, 40], faultCodes: [85, -127] },
  ph: { fail: [2, 12], suspect: [5, 9] },
  // Wide, because some boards send the amplified voltage of the electrode and others the bare one.
  'ph-millivolts': { fail: [-1000, 5500] },
  'heater-power': { fail: [-5, 5000], suspect: [-1, 2000] },
  conductivity: { fail: [0, 100_000], suspect: [5, 5000] },
  oxygen: { fail: [0, 40], suspect: [1, 20] },
  level: { fail: [-1000, 1000] }
}
