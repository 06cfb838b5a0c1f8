import { describe, expect, it } from 'vitest'
import { definitionOf, judgedKinds } from '../../services/alarm/definitions.ts'
import { driftAdvice, driftSentence } from '../../services/alarm/drift-words.ts'
import { wordsFor } from '../../services/alarm/words.ts'
import { inUnits } from '../../services/contract/in-units.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'
import { profile } from '../tank/a-profile.ts'

const metric = { temperatureUnit: 'Cel', hardnessUnit: 'dKH', volumeUnit: 'L', clock: '24' } as const
const american = { temperatureUnit: 'degF', hardnessUnit: 'ppm', volumeUnit: 'gal-us', clock: '12' } as const
const british = { ...metric, volumeUnit: 'gal-imp' } as const

describe('temperatures in a sentence', () => {
  // 1 K = 1.8 °F, 0 °C = 32 °F. Source: NIST Special Publication 811, 2008, B.8 and B.9.
  it.each([
    ['The water is 20.0 °C, below 22.0 °C.', 'The water is 68.0 °F, below 71.6 °F.'],
    [
      'The water was between 22.0 and 25.0 °C, 23.5 °C on average.',
      'The water was between 71.6 and 77.0 °F, 74.3 °F on average.'
    ],
    ['It is falling by 0.5 °C an hour.', 'It is falling by 0.9 °F an hour.'],
    ['warm by 1 to 2 °C an hour at most', 'warm by 1.8 to 3.6 °F an hour at most'],
    ['1 to 2 °C an hour is enough', '1.8 to 3.6 °F an hour is enough'],
    ['The water has risen by 3.0 °C within an hour.', 'The water has risen by 5.4 °F within an hour.'],
    ['within 1 to 2 °C of the tank', 'within 1.8 to 3.6 °F of the tank'],
    ['no more than 2 °C warmer or colder', 'no more than 3.6 °F warmer or colder'],
    ['The water is 1.5 °C colder than before', 'The water is 2.7 °F colder than before'],
    [
      'reads 0.5 °C high, growing 0.1 °C a month, known to ±0.2 °C',
      'reads 0.9 °F high, growing 0.2 °F a month, known to ±0.4 °F'
    ],
    ['Takes 0.50 °C from what the probe says.', 'Takes 0.9 °F from what the probe says.'],
    ['minus -5 °C outside', 'minus 23.0 °F outside'],
    ['no number here', 'no number here']
  ])('"%s" becomes "%s"', (house, told) => {
    expect(inUnits(house, american)).toBe(told)
    expect(inUnits(house, metric)).toBe(house)
    expect(inUnits(house, { ...american, temperatureUnit: 'Cel' })).toBe(house)
  })
})

describe('hardness in a sentence', () => {
  // 1 dKH = 10 mg CaO/L (DIN 38409-6) = 17.848 mg CaCO3/L by the molar masses of IUPAC 2021 (56.077 and 100.086).
  it.each([
    ['KH is about 2.4 dKH', 'KH is about 43 ppm'],
    ['about 1 dKH a day', 'about 18 ppm a day'],
    ['loses 0.05 dKH a day', 'loses 0.9 ppm a day'],
    ['10 to 20 dKH', '178 to 357 ppm']
  ])('"%s" becomes "%s"', (house, told) => {
    expect(inUnits(house, american)).toBe(told)
    expect(inUnits(house, metric)).toBe(house)
    expect(inUnits(house, { ...american, hardnessUnit: 'dKH' })).toBe(house)
  })
})

describe('volumes in a sentence', () => {
  // 1 US gal = 3.785 412 L, 1 imp gal = 4.546 09 L. Source: NIST Special Publication 811, 2008, B.8.
  it.each([
    ['Change 24 L now.', 'Change 6.3 US gal now.', 'Change 5.3 imp gal now.'],
    ['about a watt a litre', 'about 3.8 watts a US gallon', 'about 4.5 watts an imperial gallon'],
    ['10 to 100 L', '2.6 to 26 US gal', '2.2 to 22 imp gal'],
    ['0.25 mg/L of ammonia', '0.25 mg/L of ammonia', '0.25 mg/L of ammonia']
  ])('"%s" becomes "%s" and "%s"', (house, us, imperial) => {
    expect(inUnits(house, american)).toBe(us)
    expect(inUnits(house, british)).toBe(imperial)
    expect(inUnits(house, metric)).toBe(house)
  })
})

describe('the time of day in a sentence', () => {
  it.each([
    ['From 25 November at 03:10 there was chlorine.', 'From 25 November at 3:10 AM there was chlorine.'],
    ['at 00:05 and 12:30 and 23:59', 'at 12:05 AM and 12:30 PM and 11:59 PM'],
    ['2026-11-25T02:14:00Z stays, and so does 10:1', '2026-11-25T02:14:00Z stays, and so does 10:1']
  ])('"%s" becomes "%s"', (house, told) => {
    expect(inUnits(house, american)).toBe(told)
    expect(inUnits(house, metric)).toBe(house)
  })
})

/**
 * Every sentence about warmth that the house can say, with levels of 15 °C and more and steps of less than 10: so that
 * by its size alone a number tells which of the two it must become.
 */
const levels: readonly (Finding | null)[] = [
  null,
  ...[
    'below-band',
    'above-band',
    'going',
    'thermostat-wanders',
    'power-came-too-warm',
    'heat-came-too-warm',
    'power-stopped-short',
    'heat-stopped-short',
    'no-power-below-band',
    'power-below-rated'
  ].flatMap((because) => [
    {
      because,
      value: 21.3,
      limit: 23,
      trendPerHour: -0.6,
      hoursLeft: 5,
      facts: { bandReason: 'species', wanderedK: -1.4, khDKh: 2.4, perDayDKh: 0.8, daysLeft: 1.7 }
    },
    {
      because,
      value: 31.8,
      limit: 26,
      trendPerHour: 0.9,
      facts: { wanderedK: 1.4, daysLeft: 6, khDKh: 1.2, lowerEdgeC: 23.4, upperEdgeC: 25.6 }
    }
  ])
]
const swings: readonly Finding[] = [
  { because: 'fell-fast', value: -4.1 },
  { because: 'rose-fast', value: 3.2 }
]
const drifted: Finding = {
  because: 'past-limit',
  value: 1.3,
  facts: { quantity: 'temperature', offsetSd: 0.2, perMonth: 0.3, references: 4 }
}
const drift = {
  ...{ offsetNow: 1.3, offsetSd: 0.2, perMonth: 0.3, references: 4, perMonthLow: 0.1, perMonthHigh: 0.5 },
  ...{ verdict: 'past-limit', passesLimitAtMs: 1, limit: 0.5, quantity: 'temperature', nowMs: 0 }
}

const sentences = [
  ...judgedKinds.map((kind) => definitionOf(kind).condition),
  ...judgedKinds.flatMap((kind) =>
    (kind === 'probe-drifted' ? [drifted] : kind === 'temperature-swing' ? swings : levels).flatMap(
      (finding) =>
        [true, false].flatMap((heated) => {
          const context = { subject: 't1', hasFish: true, heated, kit: profile.kit, nowMs: 0 }
          const { what, howSure, timeLeft, confirm, doNow, doNot, caution } = wordsFor(kind, finding, context)
          return [what, howSure, timeLeft, ...confirm, ...doNow, ...doNot, caution]
        })
    )
  ),
  driftSentence(drift, 'temperature'),
  driftAdvice(drift),
  driftAdvice({ ...drift, verdict: 'drifting', passesLimitAtMs: 86_400_000 * 9 })
]
const number = String.raw`-?\d+(?:\.\d+)?`
const warm = (unit: string): RegExp => new RegExp(`(?:(${number})(?: to | and ))?(${number}) ${unit}`, 'g')
const numbersOf = (text: string, unit: string): readonly number[] =>
  [...text.matchAll(warm(unit))].flatMap(([, low, high]) =>
    [low, high].filter((one) => one !== undefined).map(Number)
  )

describe('all that an alarm can say', () => {
  const spoken = [...new Set(sentences)].filter((text) => text.includes('°C'))
  it('speaks of warmth in many sentences', () => expect(spoken.length).toBeGreaterThan(20))
  it.each(spoken)('%s', (text) => {
    const told = inUnits(text, american)
    expect(told).not.toContain('°C')
    const expected = numbersOf(text, '°C').map((degrees) => degrees * 1.8 + (Math.abs(degrees) < 10 ? 0 : 32))
    const turned = numbersOf(told, '°F')
    expect(turned).toHaveLength(expected.length)
    for (const [index, degrees] of turned.entries())
      expect(Math.abs(degrees - (expected[index] ?? Number.NaN))).toBeLessThan(0.06)
  })
  it('tells every step of warmth in degrees', () => {
    for (const text of sentences) expect(text).not.toMatch(/\d K\b|kelvin/)
  })
  it('leaves no dKH in a sentence for a reader of ppm', () => {
    const hard = [...new Set(sentences)].filter((text) => text.includes('dKH'))
    expect(hard.length).toBeGreaterThan(3)
    for (const text of hard) expect(inUnits(text, american)).not.toContain('dKH')
  })
  it('leaves no litre in a sentence for a reader of gallons', () => {
    const full = [...new Set(sentences)].filter((text) => /\blitre|\d L\b/.test(text))
    expect(full.length).toBeGreaterThan(0)
    for (const text of full) expect(inUnits(text, american)).not.toMatch(/\blitre|\d L\b/)
  })
  it('names the unit wherever it names a hardness', () => {
    for (const text of sentences)
      expect(text).not.toMatch(/KH (reaches|is about|below) \d+(\.\d+)?(?! ?\.?\d* dKH)/i)
  })
})
