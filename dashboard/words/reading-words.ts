import type { Reader } from './reader.ts'
import { digitsOf, shortDigitsOf, showTemperature } from './units.ts'

const units: Readonly<Record<string, string>> = {
  'ph-millivolts': 'mV',
  'heater-power': 'W',
  conductivity: 'µS/cm',
  oxygen: 'mg/L',
  level: 'cm'
}

/** A probe's value in the unit of the house, as the reader likes it: "24.6 °C", "7.42". */
export function readingWords(quantity: string, value: number, reader: Reader): string {
  if (quantity === 'temperature' || quantity === 'room-temperature') {
    const { digits, unit } = showTemperature(value, reader)
    return `${digits} ${unit}`
  }
  if (quantity === 'ph') return digitsOf(value, 2, reader)
  const unit = Object.hasOwn(units, quantity) ? units[quantity] : undefined
  return unit === undefined ? shortDigitsOf(value, 2, reader) : `${shortDigitsOf(value, 1, reader)} ${unit}`
}
