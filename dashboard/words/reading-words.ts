import type { Reader } from './reader.ts'
import { celsiusFromShown, digitsOf, shortDigitsOf, shownFromCelsius, showTemperature } from './units.ts'

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

const isWarmth = (quantity: string): boolean => quantity === 'temperature' || quantity === 'room-temperature'

/** The unit in which a quantity is shown to this reader; empty for pH. */
export function readingUnit(quantity: string, reader: Reader): string {
  if (isWarmth(quantity)) return reader.temperatureUnit === 'degF' ? '°F' : '°C'
  return Object.hasOwn(units, quantity) ? (units[quantity] ?? '') : ''
}

/** A value of the house as it is shown to this reader, and back. */
export const shownReading = (quantity: string, value: number, reader: Reader): number =>
  isWarmth(quantity) ? shownFromCelsius(value, reader) : value
export const insideReading = (quantity: string, shown: number, reader: Reader): number =>
  isWarmth(quantity) ? celsiusFromShown(shown, reader) : shown

/** A difference between two values: no offset between the scales. */
export const shownStep = (quantity: string, step: number, reader: Reader): number =>
  isWarmth(quantity) && reader.temperatureUnit === 'degF' ? step * 1.8 : step
export const insideStep = (quantity: string, shown: number, reader: Reader): number =>
  isWarmth(quantity) && reader.temperatureUnit === 'degF' ? shown / 1.8 : shown

/** A value or a step in digits with its unit, with no more decimals than tell. */
export const plainReading = (quantity: string, value: number, reader: Reader): string =>
  withUnit(shortDigitsOf(shownReading(quantity, value, reader), 2, reader), quantity, reader)
export const stepWords = (quantity: string, step: number, reader: Reader): string =>
  withUnit(shortDigitsOf(shownStep(quantity, step, reader), 3, reader), quantity, reader)

const withUnit = (digits: string, quantity: string, reader: Reader): string => {
  const unit = readingUnit(quantity, reader)
  return unit === '' ? digits : `${digits} ${unit}`
}
