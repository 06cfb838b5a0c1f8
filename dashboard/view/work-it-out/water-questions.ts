import type { CalculatorName } from '../../../services/contract/calculators.ts'
import {
  type ChoiceField,
  type Field,
  hardnessNow,
  number,
  phNow,
  type Question,
  temperature,
  usual,
  volumeNow,
  waterNow
} from './question.ts'

const perLitre = { unit: 'mg/L' }
const buffers = [
  'nist-4.01',
  'nist-6.86',
  'nist-9.18',
  'nist-10.01',
  'technical-4.00',
  'technical-7.00',
  'technical-10.01'
] as const
const steer = (name: string, options: readonly [string, ...string[]]): ChoiceField => ({
  is: 'choice',
  name,
  options,
  start: options[0],
  asks: 'steer'
})
const bufferField = (name: string, start: (typeof buffers)[number]): ChoiceField => ({
  is: 'choice',
  name,
  options: buffers,
  start,
  asks: 'text'
})
const calibrated = (place: number, start: (typeof buffers)[number]): readonly Field[] => {
  const part = `buffer-${place}`
  const more = { part, ...(place === 2 ? { when: { field: 'points', is: '3' } } : {}) }
  return [
    { ...bufferField(`calibration.${place}.buffer`, start), ...more },
    number(`calibration.${place}.tempC`, 'temperature', more),
    number(`calibration.${place}.millivolts`, { unit: 'mV' }, more)
  ]
}

/** Changing water, its pH and hardness, air, warmth and the probes. */
export const waterQuestions = {
  'water-change': {
    fields: [
      steer('goal', ['target', 'fraction']),
      number('now', perLitre, { present: 'nitrate', doubt: usual.nitrate }),
      number('tap', perLitre, { present: 'tap-nitrate', doubt: usual.nitrate }),
      number('target', perLitre, { when: { field: 'goal', is: 'target' } }),
      number('fraction', 'share', { when: { field: 'goal', is: 'fraction' } }),
      number('times', { unit: 'times' }, { isOptional: true, when: { field: 'goal', is: 'fraction' } })
    ],
    answers: [
      { name: 'fraction', measure: 'share', isMain: true },
      { name: 'after', measure: perLitre, isMain: true }
    ],
    trust: ['Water changes']
  },
  'weekly-change': {
    fields: [
      number('perDay', perLitre),
      number('tap', perLitre, { present: 'tap-nitrate', doubt: usual.nitrate }),
      number('fraction', 'share', { fromExample: true }),
      number('everyDays', { unit: 'days' }, { fromExample: true })
    ],
    answers: [
      { name: 'peak', measure: perLitre, isMain: true },
      { name: 'trough', measure: perLitre }
    ],
    trust: ['Water changes']
  },
  mix: {
    fields: [
      number('a.volumeL', 'volume', { part: 'a' }),
      number('a.khDKh', 'hardness', { part: 'a', present: 'hardness', doubt: usual.hardness }),
      number('a.pH', { unit: '' }, { part: 'a', present: 'ph', doubt: usual.ph }),
      temperature('a.tempC', { part: 'a', present: 'water-temperature' }),
      number('b.volumeL', 'volume', { part: 'b' }),
      number('b.khDKh', 'hardness', { part: 'b', present: 'tap-hardness', doubt: usual.hardness }),
      number('b.pH', { unit: '' }, { part: 'b', present: 'tap-ph', doubt: usual.ph }),
      temperature('b.tempC', { part: 'b', present: 'tap-temperature' }),
      number('co2Ppm', { unit: 'ppm' }, { isOptional: true })
    ],
    answers: [
      { name: 'pHClosed', measure: { unit: '', decimals: 2 }, isMain: true },
      { name: 'pHAired', measure: { unit: '', decimals: 2 } },
      { name: 'khDKh', measure: 'hardness' },
      { name: 'tempC', measure: 'temperature' },
      { name: 'dicMmolL', measure: { unit: 'mmol/L' } }
    ],
    trust: ['Mixing of two waters']
  },
  dechlorinate: {
    fields: [
      volumeNow,
      number('chlorineMgL', perLitre),
      { is: 'choice', name: 'asChloramine', options: ['no', 'yes'], start: 'no', asks: 'yes-no' }
    ],
    answers: [
      { name: 'thiosulfatePentahydrateMg', measure: { unit: 'mg' }, isMain: true },
      { name: 'ammoniaReleasedMgLAsN', measure: 'ammonia' }
    ],
    trust: ['Doses']
  },
  co2: {
    fields: [hardnessNow, phNow, waterNow],
    answers: [
      { name: 'co2MgL', measure: perLitre, isMain: true },
      { name: 'dicMmolL', measure: { unit: 'mmol/L' } }
    ],
    trust: ['Carbon dioxide from KH and pH', 'Constants of carbonic acid', 'Constant of water']
  },
  'ph-at-air': {
    fields: [
      hardnessNow,
      waterNow,
      number('co2Ppm', { unit: 'ppm' }, { fromExample: true }),
      number('pressureAtm', { unit: 'atm' }, { isOptional: true })
    ],
    answers: [{ name: 'pH', measure: { unit: '', decimals: 2 }, isMain: true }],
    trust: ['pH at rest with the air', 'Carbon dioxide at rest with the air', 'Solubility of carbon dioxide']
  },
  'oxygen-saturation': {
    fields: [
      waterNow,
      steer('place', ['sea-level', 'altitude', 'pressure']),
      number('altitudeM', { unit: 'm' }, { when: { field: 'place', is: 'altitude' } }),
      number('pressureAtm', { unit: 'atm' }, { when: { field: 'place', is: 'pressure' } }),
      number('salinityGkg', { unit: 'g/kg' }, { isOptional: true })
    ],
    answers: [{ name: 'mgL', measure: perLitre, isMain: true }],
    trust: ['Oxygen at rest with the air', 'Air pressure by height']
  },
  cooling: {
    fields: [
      temperature('startC', { present: 'water-temperature' }),
      temperature('roomC', { present: 'room-temperature' }),
      steer('loss', ['uaWPerK', 'tauH']),
      number('volumeL', 'volume', { present: 'volume', when: { field: 'loss', is: 'uaWPerK' } }),
      number('uaWPerK', { unit: 'W/K' }, { when: { field: 'loss', is: 'uaWPerK' } }),
      number('tauH', { unit: 'h' }, { when: { field: 'loss', is: 'tauH' } }),
      steer('goal', ['hours', 'untilC']),
      number('hours', { unit: 'h' }, { when: { field: 'goal', is: 'hours' } }),
      number('untilC', 'temperature', { when: { field: 'goal', is: 'untilC' } })
    ],
    answers: [
      { name: 'tempC', measure: 'temperature', isMain: true },
      { name: 'hours', measure: { unit: 'h' }, isMain: true },
      { name: 'tauH', measure: { unit: 'h' } }
    ],
    trust: ['Heat']
  },
  electrode: {
    fields: [
      number('millivolts', { unit: 'mV' }),
      waterNow,
      steer('points', ['2', '3']),
      ...calibrated(0, 'technical-7.00'),
      ...calibrated(1, 'technical-4.00'),
      ...calibrated(2, 'technical-10.01')
    ],
    answers: [
      { name: 'pH', measure: { unit: '', decimals: 2 }, isMain: true },
      { name: 'verdict', measure: 'verdict' },
      { name: 'slopeFrac', measure: 'share' },
      { name: 'slopeMvPerPh', measure: { unit: 'mV per pH' } },
      { name: 'zeroMv', measure: { unit: 'mV' } }
    ],
    trust: ['Electrode', 'Slope of an ideal electrode', 'Buffers']
  },
  'buffer-ph': {
    fields: [bufferField('buffer', 'technical-7.00'), temperature('tempC')],
    answers: [{ name: 'pH', measure: { unit: '', decimals: 3 }, isMain: true }],
    trust: ['Buffers']
  }
} as const satisfies Readonly<Partial<Record<CalculatorName, Question>>>
