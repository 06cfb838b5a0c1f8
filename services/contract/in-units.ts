import { fahrenheitFromCelsius, ppmFromDegrees } from '../water/conversions.ts'
import type { HouseSettings } from './house-entry.ts'

/** In which units a household reads. */
export type Units = Readonly<Pick<HouseSettings, 'temperatureUnit' | 'hardnessUnit'>>

const number = String.raw`-?\d+(?:\.\d+)?`
/** One number, or two: "1 to 2", "22.0 and 25.0". */
const numbers = `(?:(${number})( to | and ))?(${number})`
/** Said of a difference, not of a level: it has no zero to be moved. */
const beforeStep = String.raw`\bby |\bmore than |\bwithin |±`
const afterStep = String.raw` an hour| a day| a month| warmer| colder| too high| too low| high\b| low\b| of the tank| to what| from what`
const warmth = new RegExp(`(${beforeStep})?${numbers} °C(?=(${afterStep})?)`, 'g')
const hardness = new RegExp(`${numbers} dKH`, 'g')

const kelvinToFahrenheit = 1.8

/**
 * Rewrites the temperatures and hardnesses of a sentence of the house, which is written in °C and dKH. The numbers of
 * a text are those of the house; what a person wrote is never handed in here.
 */
export function inUnits(text: string, units: Units): string {
  const warm = units.temperatureUnit === 'Cel' ? text : text.replace(warmth, inFahrenheit)
  return units.hardnessUnit === 'dKH' ? warm : warm.replace(hardness, inPpm)
}

function inFahrenheit(
  _all: string,
  before: string | undefined,
  low: string | undefined,
  joint: string | undefined,
  value: string,
  after: string | undefined
): string {
  const isStep = before !== undefined || after !== undefined
  const turned = (digits: string): string =>
    isStep
      ? String(Number((Number(digits) * kelvinToFahrenheit).toFixed(1)))
      : fahrenheitFromCelsius(Number(digits)).toFixed(1)
  return `${before ?? ''}${low === undefined ? '' : `${turned(low)}${joint ?? ''}`}${turned(value)} °F`
}

function inPpm(_all: string, low: string | undefined, joint: string | undefined, value: string): string {
  const turned = (digits: string): string => {
    const ppm = ppmFromDegrees(Number(digits))
    return ppm < 10 ? String(Number(ppm.toFixed(1))) : String(Math.round(ppm))
  }
  return `${low === undefined ? '' : `${turned(low)}${joint ?? ''}`}${turned(value)} ppm`
}
