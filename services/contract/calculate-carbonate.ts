import { z } from 'zod'
import { airRanges, carbonateRanges, co2FromKh, phAtAir } from '../water/carbonate.ts'
import { mixRanges, mixWaters } from '../water/mixing.ts'
import { onward } from '../water/valid-range.ts'
import { amount, makeCalculator } from './calculator.ts'

const plummer = 'Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040, activity taken as 1'
const waterOf = (name: string) =>
  z
    .strictObject({
      volumeL: amount('L'),
      khDKh: amount('KH, dKH'),
      pH: amount('pH'),
      tempC: amount('Temperature, degC')
    })
    .describe(name)

export const carbonateCalculators = {
  co2: makeCalculator({
    title: 'Carbon dioxide from KH and pH',
    formula: 'HCO3 = (Alk - Kw/H + H)/(1 + 2 K2/H); CO2 = HCO3 H/K1',
    source: plummer,
    ranges: carbonateRanges,
    cautions: [
      'KH tests count phosphate, borate and the acids of wood and peat too: then this reads too high.',
      'Not to be trusted below 1 dKH or below pH 6.'
    ],
    example: { khDKh: 4, pH: 7, tempC: 25 },
    body: { khDKh: amount('KH, dKH'), pH: amount('pH'), tempC: amount('Temperature, degC') },
    answer: { co2MgL: amount('Carbon dioxide, mg/L'), dicMmolL: amount('Dissolved carbon, mmol/L') },
    compute: (body) => onward(co2FromKh(body), ({ co2MgL, dicMmolL }) => ({ co2MgL, dicMmolL }))
  }),
  'ph-at-air': makeCalculator({
    title: 'pH at rest with the air',
    formula: 'Alk = K1 C/H + 2 K1 K2 C/H^2 + Kw/H - H, C = KH ppm (P - pH2O)',
    source: plummer,
    ranges: airRanges,
    cautions: [
      'An upper bound: fish, filter and soil keep a real tank 0.3 to 1 below. Rooms hold 800 to 1500 ppm.'
    ],
    example: { khDKh: 4, tempC: 25, co2Ppm: 420 },
    body: {
      khDKh: amount('KH, dKH'),
      tempC: amount('Temperature, degC'),
      co2Ppm: amount('Carbon dioxide in the air, ppm'),
      pressureAtm: amount('Air pressure at the place, atm; 1 unless given').optional()
    },
    answer: { pH: amount('pH') },
    compute: (body) => onward(phAtAir(body), (pH) => ({ pH }))
  }),
  mix: makeCalculator({
    title: 'Two waters together',
    formula: 'KH, dissolved carbon and heat add up by volume; pH from the charge balance of the sum',
    source: plummer,
    ranges: mixRanges,
    cautions: [
      'Where the tank holds ammonia, a rise in pH makes more of it toxic although there is less of it: work that out too.'
    ],
    example: {
      a: { volumeL: 70, khDKh: 1, pH: 6.4, tempC: 25 },
      b: { volumeL: 30, khDKh: 8, pH: 8, tempC: 25 }
    },
    body: {
      a: waterOf('One water'),
      b: waterOf('The other water'),
      co2Ppm: amount('Carbon dioxide in the air, ppm; 420 unless given').optional()
    },
    answer: {
      khDKh: amount('KH, dKH'),
      dicMmolL: amount('Dissolved carbon, mmol/L'),
      tempC: amount('Temperature, degC'),
      pHClosed: amount('pH right after mixing'),
      pHAired: amount('pH at rest with the air')
    },
    compute: mixWaters
  })
}
