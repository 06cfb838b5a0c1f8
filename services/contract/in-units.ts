import { fahrenheitFromCelsius, ppmFromDegrees } from '../water/conversions.ts'
import type { HouseSettings } from './house-entry.ts'

/** In which units a household reads. */
export type Units = Readonly<Pick<HouseSettings, 'temperatureUnit' | 'hardnessUnit' | 'volumeUnit' | 'clock'>>

const number = String.raw`-?\d+(?:\.\d+)?`
/** One number, or two: "1 to 2", "22.0 and 25.0". */
const numbers = `(?:(${number})( to | and ))?(${number})`
/** Said of a difference, not of a level: it has no zero to be moved. */
const beforeStep = String.raw`\bby |\bmore than |\bwithin |±`
const afterStep = String.raw` an hour| a day| a month| warmer| colder| too high| too low| high\b| low\b| of the tank| to what| from what| above the room`
const warmth = new RegExp(`(${beforeStep})?${numbers} °C(?=(${afterStep})?)`, 'g')
const hardness = new RegExp(`${numbers} dKH`, 'g')
const volume = new RegExp(`${numbers} L(?![\\w/])`, 'g')
const perVolume = /\ba (watt|kilogram) a litre\b/g
const timeOfDay = /(?<![\d:.])([01]\d|2[0-3]):([0-5]\d)(?![\d:])/g

const kelvinToFahrenheit = 1.8

/** NIST SP 811 (2008), appendix B.8: the US gallon is 3.785 412 L, the imperial one 4.546 09 L. */
const gallons = {
  'gal-us': { litres: 3.785412, short: 'US gal', one: 'a US gallon' },
  'gal-imp': { litres: 4.54609, short: 'imp gal', one: 'an imperial gallon' }
} as const

/**
 * Rewrites the temperatures, hardnesses, volumes and times of day of a sentence of the house, which is written in °C,
 * dKH, litres and on a clock of 24 hours. The numbers of a text are those of the house; what a person wrote is never
 * handed in here.
 */
export function inUnits(text: string, units: Units): string {
  const warm = units.temperatureUnit === 'Cel' ? text : text.replace(warmth, inFahrenheit)
  const hard = units.hardnessUnit === 'dKH' ? warm : warm.replace(hardness, inPpm)
  const full = units.volumeUnit === 'L' ? hard : inGallons(hard, gallons[units.volumeUnit])
  return units.clock === '24' ? full : full.replace(timeOfDay, onTwelve)
}

/** A time of day as the household reads its clock: "02:14" or "2:14 AM". */
export function clockWords(minuteOfDay: number, clock: Units['clock']): string {
  const hour = Math.floor(minuteOfDay / 60)
  const minute = String(minuteOfDay % 60).padStart(2, '0')
  if (clock === '24') return `${String(hour).padStart(2, '0')}:${minute}`
  return `${hour % 12 === 0 ? 12 : hour % 12}:${minute} ${hour < 12 ? 'AM' : 'PM'}`
}
const onTwelve = (_all: string, hour: string, minute: string): string =>
  clockWords(Number(hour) * 60 + Number(minute), '12')

function inGallons(text: string, gallon: Readonly<{ litres: number; short: string; one: string }>): string {
  const turned = (digits: string): string => {
    const count = Number(digits) / gallon.litres
    return String(count < 10 ? Number(count.toFixed(1)) : Math.round(count))
  }
  return text
    .replace(
      volume,
      (_all, low: string | undefined, joint: string | undefined, value: string) =>
        `${low === undefined ? '' : `${turned(low)}${joint ?? ''}`}${turned(value)} ${gallon.short}`
    )
    .replace(perVolume, (_all, thing: string) => `${gallon.litres.toFixed(1)} ${thing}s ${gallon.one}`)
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
