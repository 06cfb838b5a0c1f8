import { describe, expect, test } from 'vitest'
import { phBand, temperatureBand } from '../../services/tank/bands.ts'
import { sheetOf, speciesSheets } from '../../services/tank/species.ts'

const fish = (...ids: string[]) => ids.map((speciesId) => ({ speciesId, count: 6 }))

describe('temperature band', () => {
  const cases = [
    {
      name: 'is where all species are well (cherry barb 23 to 27, bronze corydoras 22 to 26)',
      livestock: fish('puntius-titteya', 'corydoras-aeneus'),
      setpointC: 24.5,
      band: { low: 23, high: 26, dangerLow: 20, dangerHigh: 29, reason: 'species' }
    },
    {
      name: 'goes by the setpoint where species have nothing in common (18 to 22 against 23 to 27)',
      livestock: fish('tanichthys-albonubes', 'puntius-titteya'),
      setpointC: 22.5,
      band: { low: 20.5, high: 24.5, dangerLow: 18.5, dangerHigh: 26.5, reason: 'species-disagree' }
    },
    {
      name: 'goes by the setpoint without fish',
      livestock: [],
      setpointC: 25,
      band: { low: 23, high: 27, dangerLow: 21, dangerHigh: 29, reason: 'setpoint' }
    },
    {
      name: 'says that there is no sheet for a species it does not know',
      livestock: fish('betta-imbellis'),
      setpointC: undefined,
      band: { low: null, high: null, dangerLow: null, dangerHigh: null, reason: 'no-sheet' }
    },
    {
      name: 'knows nothing of nothing',
      livestock: [],
      setpointC: undefined,
      band: { low: null, high: null, dangerLow: null, dangerHigh: null, reason: 'nothing-known' }
    }
  ]
  test.each(cases)('$name', ({ livestock, setpointC, band }) => {
    expect(temperatureBand({ livestock, setpointC })).toEqual(band)
  })
})

test('neon tetra (pH 5 to 7) and guppy (7 to 8) have no pH in common', () => {
  expect(phBand(fish('paracheirodon-innesi', 'poecilia-reticulata')).reason).toBe('species-disagree')
})

test('every sheet names its source and lies inside what freshwater fish live in', () => {
  for (const sheet of speciesSheets) {
    expect(sheet.source.length).toBeGreaterThan(10)
    expect(sheet.id).toBe(sheet.scientificName.toLowerCase().replaceAll(' ', '-'))
    expect(sheetOf(sheet.id)).toBe(sheet)
    expect(sheet.tempC.low).toBeLessThan(sheet.tempC.high)
    expect(sheet.tempC.low).toBeGreaterThanOrEqual(15)
    expect(sheet.tempC.high).toBeLessThanOrEqual(30)
  }
})
