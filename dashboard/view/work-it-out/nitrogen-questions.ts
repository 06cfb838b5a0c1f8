import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { type Field, number, phNow, type Question, usual, volumeNow, waterNow } from './question.ts'

const ammoniaNow = number('tan', 'ammonia', { present: 'ammonia', doubt: usual.ammonia })
const nitriteNow = number('nitriteMgLAsN', 'nitrite', { present: 'nitrite', doubt: usual.nitrite })

const guild = (part: 'aob' | 'nob'): readonly Field[] =>
  [
    { name: 'x', unit: 'mg/L' },
    { name: 'mu', unit: '1/d' },
    { name: 'k', unit: 'mg N/L' },
    { name: 'y', unit: 'mg/mg N' },
    { name: 'b', unit: '1/d' }
  ].map(({ name, unit }) => number(`${part}.${name}`, { unit }, { part, fromExample: true }))

/** Ammonia, nitrite and the filter between them. */
export const nitrogenQuestions = {
  'unionised-ammonia': {
    fields: [ammoniaNow, waterNow, phNow, number('salinityGkg', { unit: 'g/kg' }, { isOptional: true })],
    constants: { basis: 'N' },
    answers: [
      { name: 'nh3MgL', measure: { unit: 'mg/L NH₃' }, isMain: true },
      { name: 'fraction', measure: 'share' },
      { name: 'nh3MgLAsN', measure: { unit: 'mg/L as N' } },
      { name: 'pKa', measure: { unit: '', decimals: 3 }, isBare: true }
    ],
    trust: [
      'Toxic share of ammonia',
      'Toxic ammonia from a kit',
      'Toxic share of ammonia with ions',
      'Acid constant of ammonia in salty water'
    ]
  },
  'ammonia-criteria': {
    fields: [waterNow, phNow],
    answers: [
      { name: 'chronicMgLAsN', measure: 'ammonia', isMain: true },
      { name: 'acuteMgLAsN', measure: 'ammonia' }
    ],
    trust: ['Ammonia limits for wild waters', 'Ammonia limits of 1999']
  },
  'feed-ammonia': {
    fields: [
      number('feedGPerDay', { unit: 'g a day' }),
      number('proteinFrac', 'share', { fromExample: true }),
      volumeNow
    ],
    answers: [
      { name: 'tanMgLPerDay', measure: 'ammonia', isMain: true },
      { name: 'tanMgPerDay', measure: { unit: 'mg N a day' } }
    ],
    trust: ['Ammonia from food']
  },
  'ammonia-dose': {
    fields: [
      {
        is: 'choice',
        name: 'source',
        options: ['ammonium-chloride', 'ammonia-solution'],
        start: 'ammonium-chloride',
        asks: 'text'
      },
      number('percent', { unit: '%' }, { when: { field: 'source', is: 'ammonia-solution' } }),
      volumeNow,
      number('targetMgLAsN', 'ammonia', { fromExample: true })
    ],
    answers: [
      { name: 'grams', measure: { unit: 'g' }, isMain: true },
      { name: 'millilitres', measure: { unit: 'mL' }, isMain: true }
    ],
    trust: ['Doses']
  },
  'chloride-guard': {
    fields: [
      nitriteNow,
      number('chlorideMgL', { unit: 'mg/L' }, { present: 'chloride', doubt: usual.chloride }),
      volumeNow,
      number('ratio', { unit: ': 1' }, { isOptional: true })
    ],
    answers: [
      { name: 'saltG', measure: { unit: 'g' }, isMain: true },
      { name: 'chlorideToAddMgL', measure: { unit: 'mg/L' } },
      { name: 'ratioNow', measure: { unit: ': 1' }, isBare: true }
    ],
    trust: ['Salt against nitrite']
  },
  'nitrous-acid': {
    fields: [nitriteNow, waterNow, phNow],
    answers: [
      { name: 'hno2MgL', measure: { unit: 'mg/L' }, isMain: true },
      { name: 'pKa', measure: { unit: '', decimals: 3 }, isBare: true }
    ],
    trust: ['Free nitrous acid']
  },
  'batch-nitrification': {
    fields: [
      number('tanMgLAsN', 'ammonia', { fromExample: true }),
      number('days', { unit: 'days' }, { fromExample: true }),
      ...guild('aob'),
      ...guild('nob')
    ],
    answers: [
      { name: 'nitriteClearDay', measure: { unit: '', decimals: 0 }, isMain: true },
      { name: 'tanClearDay', measure: { unit: '', decimals: 0 } },
      { name: 'nitritePeak', measure: 'nitrite' }
    ],
    foldedParts: ['aob', 'nob'],
    trust: ['Nitrite of a dose', 'Days of a dose', 'Growth of nitrifiers', 'Growth by temperature']
  }
} as const satisfies Readonly<Partial<Record<CalculatorName, Question>>>
