import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { plainReader, type Reader } from '../../dashboard/words/reader.ts'
import { speciesIdOf, speciesWords } from '../../dashboard/words/species-name.ts'
import {
  celsiusFromFahrenheit,
  celsiusFromShown,
  digitsOf,
  fahrenheitFromCelsius,
  litresFromShown,
  showConcentration,
  showHardness,
  shownFromCelsius,
  shownFromLitres,
  showTemperature,
  showTemperatureStep,
  showVolume,
  unitWords
} from '../../dashboard/words/units.ts'

const american: Reader = {
  ...plainReader,
  temperatureUnit: 'degF',
  volumeUnit: 'gal-us',
  hardnessUnit: 'ppm',
  clock: '12'
}

describe('temperatures', () => {
  // The fixed points of both scales: NIST SP 811 (2008), appendix B.8; -40 is where they meet.
  const fixedPoints = [
    { tempC: 0, tempF: 32 },
    { tempC: 100, tempF: 212 },
    { tempC: -40, tempF: -40 },
    { tempC: 37, tempF: 98.6 }
  ]
  test.each(fixedPoints)('$tempC °C is $tempF °F', ({ tempC, tempF }) => {
    expect(fahrenheitFromCelsius(tempC)).toBeCloseTo(tempF, 10)
    expect(celsiusFromFahrenheit(tempF)).toBeCloseTo(tempC, 10)
  })
  test('a temperature is shown with one decimal and its unit', () => {
    expect(showTemperature(24.56, plainReader)).toMatchObject({ digits: '24.6', unit: '°C' })
    expect(showTemperature(24.56, american)).toMatchObject({ digits: '76.2', unit: '°F' })
  })
  test('a step of degrees has no offset', () => {
    expect(showTemperatureStep(-1, american).digits).toBe('1.8')
    expect(showTemperatureStep(0.3, plainReader).digits).toBe('0.3')
  })
  test('what is shown can be typed back', () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 60, noNaN: true }), (tempC) => {
        expect(celsiusFromShown(shownFromCelsius(tempC, american), american)).toBeCloseTo(tempC, 9)
      })
    )
  })
  test('nothing below half the last digit is shown as minus zero', () => {
    expect(digitsOf(-0.04, 1, plainReader)).toBe('0.0')
  })
})

describe('volumes and hardness', () => {
  test('gallons of both kinds follow NIST SP 811 (2008), appendix B.8', () => {
    expect(litresFromShown(1, american)).toBe(3.785412)
    expect(litresFromShown(1, { ...american, volumeUnit: 'gal-imp' })).toBe(4.54609)
    expect(showVolume(96, american)).toMatchObject({ digits: '25.4', unit: 'US gal' })
    expect(shownFromLitres(litresFromShown(10, american), american)).toBeCloseTo(10, 12)
  })
  test('a degree of hardness is 17.85 ppm as calcium carbonate (DIN: 10 mg CaO a litre)', () => {
    expect(showHardness(5, 'dKH', american)).toMatchObject({ digits: '89', unit: 'ppm' })
    expect(showHardness(5, 'dGH', plainReader)).toMatchObject({ digits: '5', unit: 'dGH' })
  })
})

describe('concentrations', () => {
  const cases = [
    { mgL: 0, digits: '0' },
    { mgL: 0.0001, digits: '< 0.0005' },
    { mgL: 0.0042, digits: '0.0042' },
    { mgL: 0.018, digits: '0.018' },
    { mgL: 0.25, digits: '0.25' },
    { mgL: 1, digits: '1' },
    { mgL: 12.34, digits: '12.3' }
  ]
  test.each(cases)('$mgL mg/L is shown as $digits', ({ mgL, digits }) => {
    expect(showConcentration(mgL, 'mg/L', plainReader).digits).toBe(digits)
  })
  test('a result keeps the basis of the leaflet', () => {
    expect(unitWords('mg/L', 'NH3')).toBe('mg/L NH₃')
    expect(unitWords('mg/L', 'N')).toBe('mg/L as N')
    expect(unitWords('pH', undefined)).toBe('')
  })
})

describe('species', () => {
  const cases = [
    { typed: 'Puntius titteya', id: 'puntius-titteya' },
    { typed: '  corydoras   AENEUS ', id: 'corydoras-aeneus' },
    { typed: 'Corydoras sp. CW010', id: 'corydoras-sp-cw010' },
    { typed: 'guppy', id: null },
    { typed: '', id: null },
    { typed: '12 34', id: null }
  ]
  test.each(cases)('"$typed" becomes $id', ({ typed, id }) => {
    expect(speciesIdOf(typed)).toBe(id)
  })
  test('an id is shown as a scientific name', () => {
    expect(speciesWords('puntius-titteya')).toBe('Puntius titteya')
  })
})
