import { z } from 'zod'
import { batchNitrification, batchRanges } from '../water/batch-nitrification.ts'
import { chlorideGuard, chlorideGuardRanges } from '../water/chloride-guard.ts'
import { nitrousAcid, nitrousAcidRanges } from '../water/nitrous-acid.ts'
import { amount, makeCalculator } from './calculator.ts'

const guild = (name: string) =>
  z
    .strictObject({
      x: amount('Bacteria now, mg/L'),
      mu: amount('Growth, 1/d'),
      k: amount('Half-saturation, mg N/L'),
      y: amount('Growth per nitrogen, mg/mg N'),
      b: amount('Decay, 1/d')
    })
    .describe(name)

export const nitriteCalculators = {
  'nitrous-acid': makeCalculator({
    title: 'Free nitrous acid',
    formula: 'Ka = exp(-2300/(273 + t)); HNO2 = (46/14) NO2-N/(1 + Ka 10^pH)',
    source: 'Anthonisen, Loehr, Prakasam & Srinath 1976, J. Water Pollut. Control Fed. 48:835-852',
    ranges: nitrousAcidRanges,
    example: { nitriteMgLAsN: 5, tempC: 25, pH: 6.5 },
    body: {
      nitriteMgLAsN: amount('Nitrite, mg N/L'),
      tempC: amount('Temperature, degC'),
      pH: amount('pH')
    },
    answer: { hno2MgL: amount('Free nitrous acid, mg/L'), pKa: amount('Acid constant of nitrous acid') },
    compute: nitrousAcid
  }),
  'chloride-guard': makeCalculator({
    title: 'Salt against nitrite',
    formula: 'chloride to add = ratio NO2-N - chloride there; salt = 1.6486 chloride',
    source:
      'SRAC 462, Durborow, Crosby & Brunson 1997, Nitrite in Fish Ponds (10 : 1); molar masses IUPAC 2021; the ratio is meant on nitrogen',
    ranges: chlorideGuardRanges,
    cautions: [
      'Plain salt without additives, dissolved outside the tank, added over hours. A guarding dose is some ten times below what harms most plants and catfish.',
      'Salt guards, it does not remove: change water too. Sunfish and bass gain little from it.'
    ],
    example: { nitriteMgLAsN: 0.5, chlorideMgL: 2, volumeL: 100 },
    body: {
      nitriteMgLAsN: amount('Nitrite, mg N/L'),
      chlorideMgL: amount('Chloride there now, mg/L'),
      volumeL: amount('Net water, L'),
      ratio: amount('Chloride to nitrite-N wanted, by mass; 10 unless given').optional()
    },
    answer: {
      ratioNow: z.number().nullable().describe('Chloride to nitrite-N now; null while there is no nitrite'),
      chlorideToAddMgL: amount('Chloride to add, mg/L'),
      saltG: amount('Salt, g')
    },
    compute: chlorideGuard
  }),
  'batch-nitrification': makeCalculator({
    title: 'One dose of ammonia through a growing filter',
    formula: 'dTAN/dt = -(mu/Y) X TAN/(K + TAN); dX/dt = (mu TAN/(K + TAN) - b) X; the same for nitrite',
    source: 'Monod 1949, two steps as in Sin et al. 2008; Runge-Kutta of fourth order',
    ranges: batchRanges,
    cautions: ['A model with made-up filters teaches the shape, not the date. Test.'],
    example: {
      tanMgLAsN: 4,
      aob: { x: 0.0006, mu: 0.6, k: 1, y: 0.15, b: 0.05 },
      nob: { x: 0.0003, mu: 0.5, k: 1, y: 0.05, b: 0.05 },
      days: 40
    },
    carriesErrors: false,
    body: {
      tanMgLAsN: amount('Ammonia at the start, mg N/L'),
      aob: guild('Bacteria that turn ammonia into nitrite'),
      nob: guild('Bacteria that turn nitrite into nitrate'),
      days: amount('How long, d')
    },
    answer: {
      tan: z.array(z.number()).readonly().describe('mg N/L at whole days from 0'),
      nitrite: z.array(z.number()).readonly(),
      nitrate: z.array(z.number()).readonly(),
      tanClearDay: z
        .number()
        .nullable()
        .describe('From this day on below 0.25 mg N/L; null if not within the days'),
      nitritePeak: amount('Highest nitrite, mg N/L'),
      nitriteClearDay: z.number().nullable()
    },
    compute: batchNitrification
  })
}
