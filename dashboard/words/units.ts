import { ppmFromDegrees } from '../../services/water/conversions.ts'
import { spokenUnits as aloud } from './english/spoken-units.ts'
import { numberFormat } from './formats.ts'
import type { Reader } from './reader.ts'

/** A number as it is shown: the digits, and the unit apart so that it can stand small. */
export type Shown = Readonly<{ digits: string; unit: string; spoken: string }>

/** NIST SP 811 (2008), appendix B.8: the US gallon is 3.785 412 L, the imperial one 4.546 09 L. */
const litresPerGallon = { 'gal-us': 3.785412, 'gal-imp': 4.54609 } as const

export const fahrenheitFromCelsius = (tempC: number): number => tempC * 1.8 + 32
export const celsiusFromFahrenheit = (tempF: number): number => (tempF - 32) / 1.8

/**
 * Below a thousand English writes digits as they are. A browser's own writer of numbers costs a slow tablet a tenth of
 * a second the first time, and a wall shows its numbers before that.
 */
const isPlain = (rounded: number, reader: Reader): boolean =>
  reader.locale === 'en' && Math.abs(rounded) < 1000

/** Digits by the reader's language; never "-0". */
export function digitsOf(value: number, decimals: number, reader: Reader): string {
  const rounded = Number(value.toFixed(decimals))
  if (isPlain(rounded, reader)) return (rounded === 0 ? 0 : rounded).toFixed(decimals)
  return numberFormat(reader.locale, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals
  }).format(rounded === 0 ? 0 : rounded)
}

/** At most so many decimals, none that are only zeros. */
export function shortDigitsOf(value: number, decimals: number, reader: Reader): string {
  const rounded = Number(value.toFixed(decimals))
  if (isPlain(rounded, reader) && decimals <= 6) return String(rounded === 0 ? 0 : rounded)
  return numberFormat(reader.locale, { maximumFractionDigits: decimals }).format(rounded === 0 ? 0 : rounded)
}

export function showTemperature(tempC: number, reader: Reader, decimals = 1): Shown {
  if (reader.temperatureUnit === 'degF') {
    const digits = digitsOf(fahrenheitFromCelsius(tempC), decimals, reader)
    return { digits, unit: '°F', spoken: aloud.fahrenheit(digits) }
  }
  const digits = digitsOf(tempC, decimals, reader)
  return { digits, unit: '°C', spoken: aloud.celsius(digits) }
}

/** A difference of temperature: no offset. */
export function showTemperatureStep(stepK: number, reader: Reader): Shown {
  const fahrenheit = reader.temperatureUnit === 'degF'
  const digits = digitsOf(Math.abs(fahrenheit ? stepK * 1.8 : stepK), 1, reader)
  return fahrenheit
    ? { digits, unit: '°F', spoken: aloud.fahrenheit(digits) }
    : { digits, unit: '°C', spoken: aloud.celsius(digits) }
}

/** Small concentrations keep two telling digits, so that 0.004 is not shown as 0.00. */
export const decimalsOf = (mgL: number): number =>
  mgL === 0 ? 0 : mgL < 0.0095 ? 4 : mgL < 0.095 ? 3 : mgL < 9.95 ? 2 : 1

export function showConcentration(
  mgL: number,
  unit: string,
  reader: Reader,
  decimals = decimalsOf(mgL)
): Shown {
  const digits =
    mgL > 0 && mgL < 0.0005 ? `< ${digitsOf(0.0005, 4, reader)}` : shortDigitsOf(mgL, decimals, reader)
  return {
    digits,
    unit,
    spoken: unit === 'mg/L NH₃' ? aloud.toxicAmmonia(digits) : `${digits} ${unit}`
  }
}

export function showVolume(volumeL: number, reader: Reader): Shown {
  if (reader.volumeUnit === 'L') {
    const digits = shortDigitsOf(volumeL, volumeL < 10 ? 1 : 0, reader)
    return { digits, unit: 'L', spoken: aloud.litres(digits) }
  }
  const digits = shortDigitsOf(volumeL / litresPerGallon[reader.volumeUnit], 1, reader)
  return reader.volumeUnit === 'gal-us'
    ? { digits, unit: 'US gal', spoken: aloud.gallonsUs(digits) }
    : { digits, unit: 'imp gal', spoken: aloud.gallonsImperial(digits) }
}

export const litresFromShown = (value: number, reader: Reader): number =>
  reader.volumeUnit === 'L' ? value : value * litresPerGallon[reader.volumeUnit]
export const shownFromLitres = (volumeL: number, reader: Reader): number =>
  reader.volumeUnit === 'L' ? volumeL : volumeL / litresPerGallon[reader.volumeUnit]
export const volumeUnitOf = (reader: Reader): string => showVolume(1, reader).unit

export const celsiusFromShown = (value: number, reader: Reader): number =>
  reader.temperatureUnit === 'degF' ? celsiusFromFahrenheit(value) : value
export const shownFromCelsius = (tempC: number, reader: Reader): number =>
  reader.temperatureUnit === 'degF' ? fahrenheitFromCelsius(tempC) : tempC

export function showHardness(degrees: number, kind: 'dKH' | 'dGH', reader: Reader): Shown {
  if (reader.hardnessUnit === 'dKH') {
    const digits = shortDigitsOf(degrees, 1, reader)
    return { digits, unit: kind, spoken: `${digits} degrees` }
  }
  const digits = shortDigitsOf(ppmFromDegrees(degrees), 0, reader)
  return { digits, unit: 'ppm', spoken: `${digits} parts per million as calcium carbonate` }
}

const shownUnits: Readonly<Record<string, string>> = {
  Cel: '°C',
  degF: '°F',
  pH: '',
  'ppm CaCO3': 'ppm CaCO₃'
}
const shownBases: Readonly<Record<string, string>> = {
  N: 'as N',
  NH3: 'NH₃',
  NH4: 'NH₄',
  NO2: 'NO₂',
  NO3: 'NO₃'
}
/** The unit of a typed-in result as the keeper knows it from the leaflet. */
export function unitWords(unit: string, basis: string | undefined): string {
  const name = Object.hasOwn(shownUnits, unit) ? (shownUnits[unit] ?? unit) : unit
  const of = basis === undefined ? '' : (shownBases[basis] ?? basis)
  return [name, of].filter((part) => part !== '').join(' ')
}
