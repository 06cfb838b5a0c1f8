import { z } from 'zod'
import { bufferNames, bufferPH, bufferTempRange } from '../water/buffers.ts'
import { electrodeRanges, fitElectrode, phFromMillivolts } from '../water/electrode.ts'
import { altitudeRange, oxygenRanges, oxygenSaturation, pressureAtAltitude } from '../water/oxygen.ts'
import { type Answer, known, onward } from '../water/valid-range.ts'
import { amount, makeCalculator, refusedAs } from './calculator.ts'

const buffer = z.enum(bufferNames).describe('Which buffer; nist- and technical- ones are different solutions')
const calibrated = z.strictObject({
  buffer,
  tempC: amount('Temperature of the buffer, degC'),
  millivolts: amount('Reading in it, mV')
})
type Calibrated = z.output<typeof calibrated>

/** The buffers at their own temperatures; a refusal names the place in the list. */
function pointsOf(
  calibration: readonly Calibrated[]
): Answer<{ pH: number; tempC: number; millivolts: number }[]> {
  const points = []
  for (const [place, { buffer: name, tempC, millivolts }] of calibration.entries()) {
    const pH = refusedAs(bufferPH({ buffer: name, tempC }), {
      tempC: { field: `calibration.${place}.tempC` }
    })
    if (!pH.ok) return pH
    points.push({ pH: pH.value, tempC, millivolts })
  }
  return known(points)
}

export const probeCalculators = {
  electrode: makeCalculator({
    title: 'pH from millivolts',
    formula: 'E = zero - share N(t) (pH - 7), N = 2.302585 R T/F; least squares through the buffers',
    source:
      'Nernst equation, CODATA 2018; buffers by NBS/NIST and technical tables; limits: slope 95 % wanted, below 90 % replace (service page), zero within 30 mV (how-to sheet)',
    ranges: electrodeRanges,
    cautions: [
      'A probe that reads 7.0 in everything is broken. 4.01 and 4.00, 6.86 and 7.00 are different bottles: read the label.',
      'A pH board that shares a ground with mains gear can lie and can shock: isolate it.'
    ],
    example: {
      millivolts: -40,
      tempC: 25,
      calibration: [
        { buffer: 'technical-7.00', tempC: 25, millivolts: -6 },
        { buffer: 'nist-4.01', tempC: 25, millivolts: 166 }
      ]
    },
    body: {
      millivolts: amount('Reading in the tank, mV'),
      tempC: amount('Temperature of the tank, degC'),
      calibration: z
        .array(calibrated)
        .min(2, 'two buffers at least: one cannot give a slope')
        .max(5)
        .describe('Readings in buffers')
    },
    answer: {
      pH: amount('pH'),
      slopeMvPerPh: amount('Slope at the temperature of the buffers, mV per pH'),
      slopeFrac: amount('Share of the ideal slope'),
      zeroMv: amount('Reading at pH 7, mV'),
      verdict: z
        .enum(['good', 'worn', 'replace', 'implausible'])
        .describe('worn: clean it and watch it; implausible: more probably a mix-up of buffers')
    },
    compute: ({ millivolts, tempC, calibration }) => {
      const points = pointsOf(calibration)
      if (!points.ok) return points
      const fit = fitElectrode(points.value)
      if (!fit.ok) return refusedAs(fit, { millivolts: { field: 'calibration.millivolts' } })
      const { slopeMvPerPh, slopeFrac, zeroMv, verdict } = fit.value
      const pH = phFromMillivolts({ millivolts, tempC, slopeFrac, zeroMv })
      return onward(pH, (value) => ({ pH: value, slopeMvPerPh, slopeFrac, zeroMv, verdict }))
    }
  }),
  'buffer-ph': makeCalculator({
    title: 'pH of a buffer at its temperature',
    formula: 'read off the table along the line between two entries',
    source:
      'NBS/NIST standards (Bates 1962; Staples & Bates 1969) as reprinted in a public firmware header; technical buffers as in an industrial manual',
    ranges: { tempC: bufferTempRange('nist-6.86') },
    example: { buffer: 'nist-6.86', tempC: 20 },
    body: { buffer, tempC: amount('Temperature of the buffer, degC') },
    answer: { pH: amount('pH') },
    compute: (body) => onward(bufferPH(body), (pH) => ({ pH }))
  }),
  'oxygen-saturation': makeCalculator({
    title: 'Oxygen at rest with the air',
    formula:
      'ln C = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.2438e10/T^3 - 8.621949e11/T^4 - S (0.017674 - 10.754/T + 2140.7/T^2), then pressure',
    source: 'Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, as used by USGS OWQ 2011.03',
    ranges: { ...oxygenRanges, altitudeM: altitudeRange },
    cautions: ['An upper bound: a full or warm tank, or one whose filter stands, holds less.'],
    example: { tempC: 25 },
    body: {
      tempC: amount('Temperature, degC'),
      salinityGkg: amount('Salinity, g/kg; 0 unless given').optional(),
      pressureAtm: amount('Air pressure at the place, not reduced to sea level, atm').optional(),
      altitudeM: amount('Or height above the sea, m').optional()
    },
    answer: { mgL: amount('Oxygen, mg/L') },
    together: ({ pressureAtm, altitudeM }) =>
      pressureAtm !== undefined && altitudeM !== undefined ? 'give pressureAtm or altitudeM, not both' : null,
    compute: ({ tempC, salinityGkg, pressureAtm, altitudeM }) => {
      const pressure = altitudeM === undefined ? known(pressureAtm) : pressureAtAltitude(altitudeM)
      if (!pressure.ok) return pressure
      const mgL = oxygenSaturation({ tempC, salinityGkg, pressureAtm: pressure.value })
      return onward(mgL, (value) => ({ mgL: value }))
    }
  })
}
