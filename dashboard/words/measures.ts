import {
  ammoniaAsN,
  ammoniaFromN,
  degreesFromPpm,
  nitriteAsN,
  nitriteFromN,
  ppmFromDegrees
} from '../../services/water/conversions.ts'
import type { Reader } from './reader.ts'
import {
  celsiusFromShown,
  decimalsOf,
  digitsOf,
  litresFromShown,
  shortDigitsOf,
  shownFromCelsius,
  shownFromLitres
} from './units.ts'

/** The units in which a person types and reads on one page. */
export type OwnUnits = Readonly<{
  temperature: Reader['temperatureUnit']
  volume: Reader['volumeUnit']
  hardness: Reader['hardnessUnit']
  ammonia: 'N' | 'NH3' | 'NH4'
  nitrite: 'N' | 'NO2'
}>
/** Measures of which people use more than one unit. */
export type Turning = keyof OwnUnits
/** A measure that turns into the reader's unit, a share shown in percent, or a plain unit that stays as it is. */
export type Measure = Turning | 'share' | Readonly<{ unit: string; decimals?: number }>

type Turn = Readonly<{
  options: Readonly<Record<string, string>>
  shown: (inside: number, units: OwnUnits) => number
  inside: (shown: number, units: OwnUnits) => number
}>
const readerOf = (units: OwnUnits): Reader => ({
  temperatureUnit: units.temperature,
  volumeUnit: units.volume,
  hardnessUnit: units.hardness,
  clock: '24',
  locale: 'en'
})

const turns: Readonly<Record<Turning, Turn>> = {
  temperature: {
    options: { Cel: '°C', degF: '°F' },
    shown: (tempC, units) => shownFromCelsius(tempC, readerOf(units)),
    inside: (shown, units) => celsiusFromShown(shown, readerOf(units))
  },
  volume: {
    options: { L: 'L', 'gal-us': 'US gal', 'gal-imp': 'imp gal' },
    shown: (volumeL, units) => shownFromLitres(volumeL, readerOf(units)),
    inside: (shown, units) => litresFromShown(shown, readerOf(units))
  },
  hardness: {
    options: { dKH: 'dKH', ppm: 'ppm CaCO₃' },
    shown: (degrees, units) => (units.hardness === 'ppm' ? ppmFromDegrees(degrees) : degrees),
    inside: (shown, units) => (units.hardness === 'ppm' ? degreesFromPpm(shown) : shown)
  },
  ammonia: {
    options: { N: 'mg/L as N', NH3: 'mg/L as NH₃', NH4: 'mg/L as NH₄' },
    shown: (tanMgLAsN, { ammonia }) => ammoniaFromN({ tanMgLAsN, basis: ammonia }),
    inside: (shown, { ammonia }) => ammoniaAsN({ ammoniaMgL: shown, basis: ammonia })
  },
  nitrite: {
    options: { N: 'mg/L as N', NO2: 'mg/L as NO₂' },
    shown: (nitriteMgLAsN, { nitrite }) => nitriteFromN({ nitriteMgLAsN, basis: nitrite }),
    inside: (shown, { nitrite }) => nitriteAsN({ nitriteMgL: shown, basis: nitrite })
  }
}

export const isTurning = (measure: Measure): measure is Turning =>
  typeof measure === 'string' && measure !== 'share'
/** The units one may choose for a measure, by name. */
export const unitChoices = (turning: Turning): Readonly<Record<string, string>> => turns[turning].options

export function unitOf(measure: Measure, units: OwnUnits): string {
  if (isTurning(measure)) return turns[measure].options[units[measure]] ?? ''
  return measure === 'share' ? '%' : measure.unit
}
export function shownOf(measure: Measure, inside: number, units: OwnUnits): number {
  if (isTurning(measure)) return turns[measure].shown(inside, units)
  return measure === 'share' ? inside * 100 : inside
}
export function insideOf(measure: Measure, shown: number, units: OwnUnits): number {
  if (isTurning(measure)) return turns[measure].inside(shown, units)
  return measure === 'share' ? shown / 100 : shown
}
/** A difference, such as "may be off by": no offset between the scales. */
export const stepShown = (measure: Measure, step: number, units: OwnUnits): number =>
  shownOf(measure, step, units) - shownOf(measure, 0, units)
export const stepInside = (measure: Measure, step: number, units: OwnUnits): number =>
  insideOf(measure, step, units) - insideOf(measure, 0, units)

/** An answer in digits: temperatures to a tenth, pH to a hundredth, all else with two or three telling digits. */
export function digitsOfMeasure(measure: Measure, inside: number, units: OwnUnits, locale: string): string {
  const reader = { ...readerOf(units), locale }
  const shown = shownOf(measure, inside, units)
  if (measure === 'temperature') return digitsOf(shown, 1, reader)
  if (typeof measure === 'object' && measure.decimals !== undefined)
    return digitsOf(shown, measure.decimals, reader)
  if (shown !== 0 && Math.abs(shown) < 0.0005) return Number(shown.toPrecision(2)).toString()
  if (Math.abs(shown) >= 99.5) return shortDigitsOf(shown, 0, reader)
  return shortDigitsOf(shown, decimalsOf(Math.abs(shown)), reader)
}

/** A number as one would type it: no marks between thousands, a point, no more digits than tell. */
export const typedOf = (measure: Measure, inside: number, units: OwnUnits): string =>
  plainDigits(shownOf(measure, inside, units))
export const plainDigits = (value: number): string => String(Number(value.toPrecision(5)))
