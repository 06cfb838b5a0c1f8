import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { eventWords, firstDraft, isComplete } from '../../dashboard/view/diary/event-draft.ts'
import { parseSteps, parseTyped } from '../../dashboard/view/form/typed-number.ts'
import { noAnswers, profileOf } from '../../dashboard/view/setup/answers.ts'
import { publishLine } from '../../dashboard/view/setup/publish-line.ts'
import { waterOfMeasures } from '../../dashboard/view/setup/water-helper.ts'
import { draftsOf, emptyDraft, press, resultOf, testWords, unitOf } from '../../dashboard/view/tests/draft.ts'
import { plainReader } from '../../dashboard/words/reader.ts'
import { newEvent } from '../../services/contract/event-entry.ts'
import { tankProfile } from '../../services/contract/tank-profile.ts'
import { newTest } from '../../services/contract/test-entry.ts'

const kit = { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'N' } as const
const typed = (keys: string) => [...keys].reduce((draft, key) => press(draft, key), emptyDraft)

describe('a typed number', () => {
  const cases = [
    { text: '7.4', value: 7.4 },
    { text: '7,4', value: 7.4 },
    { text: ' 24 ', value: 24 },
    { text: '.5', value: 0.5 },
    { text: '-2', value: -2 },
    { text: '', value: null },
    { text: '1,000.5', value: null },
    { text: '1e3', value: null },
    { text: 'NaN', value: null },
    { text: 'Infinity', value: null },
    { text: '7.4.1', value: null }
  ]
  test.each(cases)('"$text" is $value', ({ text, value }) => {
    expect(parseTyped(text)).toBe(value)
  })
  test('is a finite number or none, whatever is typed', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const value = parseTyped(text)
        expect(value === null || Number.isFinite(value)).toBe(true)
      })
    )
  })
  test('steps of a kit must rise', () => {
    expect(parseSteps('0 0,25 0.5  1')).toEqual([0, 0.25, 0.5, 1])
    expect(parseSteps('')).toEqual([])
    expect(parseSteps('1 0.5')).toBeNull()
    expect(parseSteps('0 a 1')).toBeNull()
  })
})

describe('the pad', () => {
  test('types a number as it is spoken', () => {
    expect(typed('0.25').text).toBe('0.25')
    expect(typed('.5').text).toBe('0.5')
    expect(typed('07').text).toBe('7')
    expect(typed('1.2.3').text).toBe('1.23')
    expect(press(typed('12'), 'erase').text).toBe('1')
  })
  test('never holds what is no number', () => {
    const keys = fc.array(fc.constantFrom('0', '1', '5', '9', '.', 'erase', 'clear'), { maxLength: 40 })
    fc.assert(
      fc.property(keys, (pressed) => {
        const draft = pressed.reduce((now, key) => press(now, key), emptyDraft)
        expect(draft.text === '' || Number.isFinite(Number(draft.text))).toBe(true)
      })
    )
  })
  test('an empty field is no result, and pH 15 is none either', () => {
    expect(resultOf('ammonia', emptyDraft, unitOf('ammonia', kit, plainReader))).toBeNull()
    expect(resultOf('ph', typed('15'), unitOf('ph', kit, plainReader))).toBeNull()
  })
  test('what it gives is what the house takes, for every test and limit', () => {
    const names = [
      'ammonia',
      'nitrite',
      'nitrate',
      'ph',
      'kh',
      'gh',
      'temperature',
      'phosphate',
      'chlorine',
      'chloride',
      'oxygen'
    ] as const
    for (const reader of [
      plainReader,
      { ...plainReader, hardnessUnit: 'ppm', temperatureUnit: 'degF' } as const
    ])
      for (const name of names)
        for (const limit of ['exact', 'at-least', 'at-most'] as const) {
          const draft = { ...typed('5'), limit, dilutedTimes: 2 }
          const result = resultOf(name, draft, unitOf(name, kit, reader))
          expect(newTest.safeParse({ takenAt: 1, results: [result] }).success).toBe(true)
        }
  })
  test('a stored test comes back on the pad as it was typed', () => {
    const results = [
      { quantity: 'ammonia' as const, value: 0.25, unit: 'mg/L', basis: 'NH3', atMost: true },
      { quantity: 'ph' as const, value: 7.4, unit: 'pH' }
    ]
    expect(draftsOf({ id: 'x', takenAtMs: 1, results })).toEqual({
      ammonia: { text: '0.25', limit: 'at-most', dilutedTimes: 1 },
      ph: { text: '7.4', limit: 'exact', dilutedTimes: 1 }
    })
    expect(testWords(results, plainReader)).toBe('Ammonia at most 0.25 mg/L NH₃, pH 7.4')
  })
})

describe('the diary', () => {
  const reader = plainReader
  const cases = [
    { kind: 'fed', data: { pinches: 2 }, words: 'Fed: 2 pinches' },
    { kind: 'water-changed', data: { fraction: 0.25, conditioner: true }, words: 'Water changed: 25 %' },
    {
      kind: 'fish-added',
      data: { speciesId: 'puntius-titteya', count: 6 },
      words: 'Fish added: 6 Puntius titteya'
    },
    { kind: 'topped-up', data: { litres: 3, treated: false }, words: 'Topped up: 3 L' },
    {
      kind: 'dosed',
      data: { substance: 'ammonium-chloride', amount: 1.5, unit: 'g' },
      words: 'Dosed something: Ammonium chloride, 1.5 g'
    },
    { kind: 'filter-cleaned', data: { how: 'tap' }, words: 'Filter cleaned: Rinsed under the tap' },
    { kind: 'maintenance-started', data: { minutes: 30 }, words: 'Hands in the tank: 30 min' }
  ] as const
  test.each(cases)('$kind is complete, taken by the house, and told as "$words"', ({ kind, data, words }) => {
    expect(isComplete(kind, data, '')).toBe(true)
    expect(newEvent.safeParse({ kind, atMs: 1, data }).success).toBe(true)
    expect(eventWords(kind, data, reader)).toBe(words)
  })
  test('an event that would mean nothing is not complete', () => {
    expect(isComplete('water-changed', { fraction: 0.3 }, '')).toBe(false)
    expect(isComplete('fish-died', { count: 1 }, '')).toBe(false)
    expect(isComplete('note', {}, '  ')).toBe(false)
    expect(isComplete('fed', {}, '')).toBe(true)
    expect(firstDraft('fish-added', ['corydoras-aeneus'])).toEqual({
      count: 1,
      speciesId: 'corydoras-aeneus'
    })
  })
})

describe('the set-up', () => {
  test('a box without glass and gravel holds what geometry says: 1 dm3 is 1 L', () => {
    const bare = { lengthCm: 100, widthCm: 50, heightCm: 40, glassMm: 0, freeEdgeCm: 0, gravelCm: 0 }
    expect(waterOfMeasures(bare)).toBe(200)
    const real = waterOfMeasures({ ...bare, glassMm: 8, freeEdgeCm: 3, gravelCm: 5 })
    expect(real).toBeGreaterThan(150)
    expect(real).toBeLessThan(165)
  })
  test('measures that leave no room for water give no number', () => {
    const tank = { lengthCm: 60, widthCm: 30, heightCm: 30, glassMm: 5, freeEdgeCm: 3, gravelCm: 4 }
    expect(waterOfMeasures({ ...tank, gravelCm: 40 })).toBeNull()
    expect(waterOfMeasures({ ...tank, lengthCm: 0.5 })).toBeNull()
    expect(waterOfMeasures({ ...tank, heightCm: Number.NaN })).toBeNull()
  })
  test('the answers make a profile that the house takes', () => {
    const answers = {
      ...noAnswers,
      start: 'fish-new' as const,
      name: ' Kitchen ',
      volume: '96',
      heat: { isHeated: true, watts: '100', setpoint: '24,5', hasLid: false },
      fish: [{ id: 'puntius-titteya', count: 8 }]
    }
    const noHeater = { isHeated: false, watts: '', setpoint: '', hasLid: null }
    const profile = profileOf(answers, plainReader, 1_000)
    expect(tankProfile.safeParse(profile).success).toBe(true)
    expect(profile).toMatchObject({ name: 'Kitchen', volumeL: 96, heaterW: 100, setpointC: 24.5, lid: false })
    expect(profileOf({ ...answers, start: 'filled' }, plainReader, 1_000)?.species).toBeUndefined()
    expect(profileOf({ ...answers, heat: noHeater }, plainReader, 1)?.heaterW).toBe(0)
    expect(profileOf({ ...answers, heat: noHeater }, plainReader, 1)).not.toHaveProperty('lid')
    expect(profileOf({ ...answers, volume: '0' }, plainReader, 1)).toBeNull()
  })
  test('the line to publish by hand survives a shell', () => {
    const given = { host: '127.0.0.1', port: 1883, tankId: 'kitchen', board: null }
    expect(publishLine(given)).toBe(
      'mosquitto_pub -h 127.0.0.1 -p 1883 -q 1 -t shoal/kitchen/t1/temperature -m 24.56'
    )
    expect(publishLine({ ...given, board: { name: 'b', password: "it's" } })).toContain("-P 'it'\\''s'")
  })
})
