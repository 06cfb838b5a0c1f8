import type { Reader } from './reader.ts'
import { showTemperature } from './units.ts'

/**
 * The sentence of the house for readers of Fahrenheit: the water's own temperature is turned, and nothing else,
 * because a step of degrees is no temperature.
 */
export function sentenceFor(sentence: string, reader: Reader): string {
  if (reader.temperatureUnit === 'Cel') return sentence
  return sentence.replace(/^(The water is )(-?\d+(?:\.\d+)?) °C/, (_, before: string, tempC: string) => {
    const { digits, unit } = showTemperature(Number(tempC), reader)
    return `${before}${digits} ${unit}`
  })
}
