import { describe, expect, test } from 'vitest'
import {
  askedOf,
  fieldsOf,
  isNumber,
  startDraft,
  turned,
  valueAt
} from '../../dashboard/view/work-it-out/draft.ts'
import { faultsOf } from '../../dashboard/view/work-it-out/faults.ts'
import { groups, questionNamed, questions } from '../../dashboard/view/work-it-out/questions.ts'
import { sayingsOf } from '../../dashboard/view/work-it-out/sayings.ts'
import { trustSentence, worstWords } from '../../dashboard/view/work-it-out/trust-words.ts'
import { fieldFor, parseRanges } from '../../dashboard/view/work-it-out/valid-range.ts'
import { questionWords } from '../../dashboard/words/english/questions.ts'
import { work } from '../../dashboard/words/english/work-it-out.ts'
import type { OwnUnits } from '../../dashboard/words/measures.ts'
import { type CalculatorName, calculatorNames, calculators } from '../../services/contract/calculators.ts'
import { trust } from '../../services/contract/trust.ts'
import { HouseError } from '../../services/errors.ts'

const metric: OwnUnits = { temperature: 'Cel', volume: 'L', hardness: 'dKH', ammonia: 'N', nitrite: 'N' }
const american: OwnUnits = {
  temperature: 'degF',
  volume: 'gal-us',
  hardness: 'ppm',
  ammonia: 'NH3',
  nitrite: 'NO2'
}

/** A form in which every field that is asked holds a number. */
function filled(name: CalculatorName, units: OwnUnits, choices: Readonly<Record<string, string>> = {}) {
  const question = questions[name]
  const fresh = startDraft(question, calculators[name].example, units)
  const draft = { ...fresh, choices: { ...fresh.choices, ...choices } }
  const texts = { ...draft.texts }
  for (const field of fieldsOf(question, draft).filter(isNumber)) {
    const example = valueAt(calculators[name].example, field.name)
    if (field.isOptional !== true) texts[field.name] ??= String(example ?? 20)
  }
  return { question, draft: { ...draft, texts } }
}

describe('every calculator that the house lists', () => {
  test('stands once among the questions', () => {
    expect(Object.values(groups).flat().toSorted()).toEqual([...calculatorNames].toSorted())
    expect(Object.keys(questions).toSorted()).toEqual([...calculatorNames].toSorted())
  })

  test.each(calculatorNames)('%s has a plain question, and words for all it asks and answers', (name) => {
    const words = questionWords[name]
    const question = questions[name]
    expect(words.question).toMatch(/^(How|Which|Where|What) .+\?$/)
    expect(words.lead).toMatch(/\.$/)
    for (const field of question.fields) {
      expect(words.labels[field.name], field.name).toBeDefined()
      if (field.part !== undefined) expect(words.parts?.[field.part], field.part).toBeDefined()
      if (field.is === 'choice')
        for (const option of field.options) expect(words.options?.[option], option).toBeDefined()
    }
    for (const line of question.answers) expect(words.answers[line.name], line.name).toBeDefined()
    expect(question.answers.some(({ isMain }) => isMain === true)).toBe(true)
  })

  test.each(calculatorNames)('%s tells all of its valid range, each part with a name', (name) => {
    const { validRange } = calculators[name]
    const parts = parseRanges(validRange)
    expect(parts.length).toBe(validRange.split(' · ').length)
    for (const { field, low, high } of parts) {
      expect(low).toBeLessThan(high)
      const named = fieldFor(questions[name], field)
      expect(
        named === undefined ? work.elsewhere[field] : questionWords[name].labels[named.name]
      ).toBeDefined()
    }
  })

  test.each(calculatorNames)('%s takes what its form sends', (name) => {
    const { question, draft } = filled(name, metric)
    const asked = askedOf(question, draft, metric)
    expect(asked).toMatchObject({ kind: 'ready' })
    const answer = asked.kind === 'ready' ? calculators[name].run(asked.body) : {}
    const shown = question.answers.filter((line) => Object.hasOwn(answer, line.name))
    expect(shown.some(({ isMain }) => isMain === true)).toBe(true)
  })

  test.each([
    ['water-change', { goal: 'fraction' }],
    ['ammonia-dose', { source: 'ammonia-solution' }],
    ['oxygen-saturation', { place: 'altitude' }],
    ['cooling', { loss: 'tauH', goal: 'untilC' }],
    ['electrode', { points: '3' }]
  ] as const)('%s takes its other side too: %o', (name, choices) => {
    const { question, draft } = filled(name, metric, choices)
    const texts: Record<string, string> = {
      ...draft.texts,
      ...(name === 'water-change' ? { fraction: '25' } : {}),
      ...(name === 'cooling' ? { untilC: '22' } : {}),
      ...(name === 'electrode' ? { 'calibration.2.millivolts': '-178' } : {})
    }
    const asked = askedOf(question, { ...draft, texts }, metric)
    expect(asked).toMatchObject({ kind: 'ready' })
    expect(() => (asked.kind === 'ready' ? calculators[name].run(asked.body) : null)).not.toThrow()
  })
})

describe('own units', () => {
  test('what is typed in Fahrenheit, as NH3, is asked in Celsius, as N', () => {
    const { question, draft } = filled('unionised-ammonia', american)
    const typed = { ...draft, texts: { tan: '1.2159', tempC: '77', pH: '8', salinityGkg: '' } }
    const asked = askedOf(question, typed, american, false)
    // NIST SP 811: 77 degF is 25 degC. IUPAC 2021 masses: 17.031 g NH3 hold 14.007 g N.
    expect(asked).toMatchObject({ kind: 'ready', body: { tempC: 25, pH: 8, basis: 'N' } })
    expect(asked.kind === 'ready' && asked.body.tan).toBeCloseTo((1.2159 * 14.007) / 17.031, 9)
  })

  test('a doubt in degrees Fahrenheit has no offset', () => {
    const { question, draft } = filled('ammonia-criteria', american)
    const typed = { ...draft, texts: { tempC: '68', pH: '7' }, doubts: { tempC: '1.8', pH: '' } }
    const asked = askedOf(question, typed, american)
    const plusMinus = asked.kind === 'ready' ? (asked.body.plusMinus as Record<string, number>) : {}
    expect(Object.keys(plusMinus)).toEqual(['tempC'])
    expect(plusMinus.tempC).toBeCloseTo(1, 9)
  })

  test('another unit keeps the meaning of what was typed', () => {
    const { question, draft } = filled('cooling', metric)
    const typed = { ...draft, texts: { ...draft.texts, startC: '25', volumeL: '100' } }
    const fahrenheit = turned(question, typed, 'temperature', metric, { ...metric, temperature: 'degF' })
    expect(fahrenheit.texts).toMatchObject({ startC: '77', volumeL: '100' })
    const gallons = turned(question, typed, 'volume', metric, { ...metric, volume: 'gal-us' })
    // NIST SP 811: 100 L are 26.417 US gallons.
    expect(gallons.texts).toMatchObject({ startC: '25', volumeL: '26.417' })
  })
})

describe('what cannot be worked out', () => {
  test('empty is still needed, and never a zero; words are no number', () => {
    const question = questions.co2
    const draft = { texts: { khDKh: '', pH: 'seven', tempC: '25' }, choices: {}, doubts: {} }
    const asked = askedOf(question, draft, metric)
    expect(asked).toEqual({ kind: 'not-yet', missing: ['khDKh'], faulty: ['pH'] })
  })

  test('out of range is said at its field, in the units of the reader, with the source', () => {
    const question = questions['ammonia-criteria']
    let extra: Readonly<Record<string, unknown>> = {}
    try {
      calculators['ammonia-criteria'].run({ tempC: 31, pH: 7 })
    } catch (error) {
      if (error instanceof HouseError) extra = error.extra
    }
    const outside = extra as never
    const asked = { kind: 'ready' as const, body: {} }
    const words = questionWords['ammonia-criteria']
    const given = { question, words, asked, calculated: { kind: 'outside' as const, outside }, locale: 'en' }
    const fault = faultsOf({ ...given, units: american }).fields.tempC
    expect(fault).toMatch(/^Temperature of the water 87\.8 lies outside: .* from 32 to 86 °F\. Source: EPA/)
    expect(faultsOf({ ...given, units: metric }).fields.tempC).toContain('from 0 to 30 °C')
  })
})

describe('what an answer means', () => {
  const reading = { tank: { name: 'Kitchen', volumeL: 96 }, units: metric, locale: 'en' }
  const of = (name: CalculatorName, body: Readonly<Record<string, unknown>>): string =>
    sayingsOf(name, { body, answer: calculators[name].run(body) }, reading).join(' ')

  test('much toxic ammonia comes with what to do, and never with raising pH', () => {
    const bad = of('unionised-ammonia', { tan: 4, basis: 'N', tempC: 25, pH: 8 })
    expect(bad).toContain('Act now')
    expect(bad).toContain('Never raise pH')
    expect(of('unionised-ammonia', { tan: 0.1, basis: 'N', tempC: 25, pH: 7 })).toMatch(/^Fish bear this\./)
  })
  test('a doubt that reaches into a worse step is told', () => {
    const words = of('unionised-ammonia', {
      tan: 0.6,
      basis: 'N',
      tempC: 25,
      pH: 7.5,
      plusMinus: { pH: 0.5 }
    })
    expect(words).toContain('If all doubts add up it is worse')
  })
  test('in acid water full of ammonia only small changes are spoken of', () => {
    const words = of('unionised-ammonia', { tan: 8, basis: 'N', tempC: 25, pH: 6 })
    expect(words).toContain('10 to 15 %')
    expect(words).not.toContain('30 to 50 %')
  })
  test('a change is told in litres of the tank, and a large one is to be split', () => {
    expect(of('water-change', { now: 80, tap: 5, target: 20 })).toMatch(
      /76\.8 L of the 96 L in Kitchen\..*split/
    )
    expect(of('water-change', { now: 10, tap: 8, target: 5 })).toContain('No water change reaches this')
  })
})

describe('how far to trust the numbers', () => {
  test('every question shows comparisons, and every name of one is real', () => {
    const names = new Set(trust.map(({ about }) => about))
    for (const name of calculatorNames)
      for (const about of questions[name].trust) expect(names, `${name}: ${about}`).toContain(about)
  })
  test('each line becomes a plain sentence without powers of ten', () => {
    expect(trust.length).toBeGreaterThan(50)
    for (const line of trust) {
      expect(worstWords(line, 'en')).not.toMatch(/e-|NaN|undefined/)
      expect(trustSentence(line, 'en')).toMatch(/^.+: .+\.$/)
    }
  })
})

test('only names of calculators open one', () => {
  expect(questionNamed('co2')).toBe('co2')
  for (const name of ['constructor', '__proto__', 'nothing', null]) expect(questionNamed(name)).toBeNull()
})
