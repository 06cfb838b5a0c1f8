import { describe, expect, test } from 'vitest'
import { type CalculatorName, calculatorNames, calculators } from '../../services/contract/calculators.ts'
import { HouseError } from '../../services/errors.ts'

const ask = (name: CalculatorName, body: unknown): Record<string, unknown> => ({
  ...calculators[name].run(body)
})

function refusalOf(name: CalculatorName, body: unknown): HouseError {
  try {
    calculators[name].run(body)
  } catch (error) {
    if (error instanceof HouseError) return error
    throw error
  }
  throw new Error('answered')
}
const guild = { x: 0.0006, mu: 0.6, k: 1, y: 0.15, b: 0.05 }
const water = { volumeL: 50, khDKh: 4, pH: 7, tempC: 25 }

describe('every calculator', () => {
  test('is there under its name', () => {
    expect([...calculatorNames].toSorted()).toEqual([
      'ammonia-criteria',
      'ammonia-dose',
      'batch-nitrification',
      'buffer-ph',
      'chloride-guard',
      'co2',
      'cooling',
      'dechlorinate',
      'electrode',
      'feed-ammonia',
      'mix',
      'nitrous-acid',
      'oxygen-saturation',
      'ph-at-air',
      'unionised-ammonia',
      'water-change',
      'weekly-change'
    ])
  })

  // The names of bodies and answers are fixed: others script against them.
  const names: Readonly<Record<CalculatorName, readonly [object, readonly string[]]>> = {
    'unionised-ammonia': [
      { tan: 1, basis: 'NH3', tempC: 25, pH: 8, salinityGkg: 1 },
      ['fraction', 'nh3MgL', 'nh3MgLAsN', 'pKa']
    ],
    'ammonia-criteria': [{ tempC: 20, pH: 7 }, ['acuteMgLAsN', 'chronicMgLAsN']],
    'nitrous-acid': [{ nitriteMgLAsN: 1, tempC: 25, pH: 7 }, ['hno2MgL', 'pKa']],
    'chloride-guard': [
      { nitriteMgLAsN: 1, chlorideMgL: 2, volumeL: 100, ratio: 6 },
      ['ratioNow', 'chlorideToAddMgL', 'saltG']
    ],
    co2: [{ khDKh: 4, pH: 7, tempC: 25 }, ['co2MgL', 'dicMmolL']],
    'ph-at-air': [{ khDKh: 4, tempC: 25, co2Ppm: 420, pressureAtm: 0.95 }, ['pH']],
    mix: [{ a: water, b: water, co2Ppm: 420 }, ['khDKh', 'dicMmolL', 'tempC', 'pHClosed', 'pHAired']],
    'oxygen-saturation': [{ tempC: 25, salinityGkg: 1, altitudeM: 500 }, ['mgL']],
    electrode: [
      {
        millivolts: -40,
        tempC: 25,
        calibration: [
          { buffer: 'technical-7.00', tempC: 25, millivolts: -6 },
          { buffer: 'technical-4.00', tempC: 25, millivolts: 166 }
        ]
      },
      ['pH', 'slopeMvPerPh', 'slopeFrac', 'zeroMv', 'verdict']
    ],
    'buffer-ph': [{ buffer: 'technical-10.01', tempC: 20 }, ['pH']],
    cooling: [{ startC: 25, roomC: 20, volumeL: 54, uaWPerK: 6, hours: 3 }, ['tempC', 'tauH']],
    'water-change': [{ now: 80, tap: 5, target: 20 }, ['fraction', 'reachable']],
    'weekly-change': [{ perDay: 2, tap: 10, fraction: 0.3, everyDays: 7 }, ['peak', 'trough']],
    'ammonia-dose': [{ volumeL: 100, targetMgLAsN: 2, source: 'ammonium-chloride' }, ['grams']],
    dechlorinate: [
      { volumeL: 100, chlorineMgL: 1, asChloramine: true },
      ['thiosulfatePentahydrateMg', 'ammoniaReleasedMgLAsN']
    ],
    'feed-ammonia': [{ feedGPerDay: 0.5, proteinFrac: 0.45, volumeL: 54 }, ['tanMgPerDay', 'tanMgLPerDay']],
    'batch-nitrification': [
      { tanMgLAsN: 4, aob: guild, nob: guild, days: 30 },
      ['tan', 'nitrite', 'nitrate', 'tanClearDay', 'nitritePeak', 'nitriteClearDay']
    ]
  }
  test.each(calculatorNames)(
    '%s takes and answers the names it promises, and its answer fits its schema',
    (name) => {
      const [body, answers] = names[name]
      const answer = ask(name, body)
      expect(Object.keys(answer).toSorted()).toEqual([...answers].toSorted())
      expect(calculators[name].answer.parse(answer)).toEqual(answer)
    }
  )

  test.each(calculatorNames)('%s shows formula, source and valid range, and its example works', (name) => {
    const { title, formula, source, validRange, example } = calculators[name]
    for (const words of [title, formula, source, validRange]) expect(words.length).toBeGreaterThan(5)
    expect(Object.keys(ask(name, example)).length).toBeGreaterThan(0)
  })

  test.each(calculatorNames)(
    '%s refuses a body with a name it does not know, and one that is empty',
    (name) => {
      expect(refusalOf(name, { ...calculators[name].example, extra: 1 }).code).toBe('API_BAD_INPUT')
      expect(refusalOf(name, {}).code).toBe('API_BAD_INPUT')
      expect(refusalOf(name, null).code).toBe('API_BAD_INPUT')
    }
  )
})

describe('out of range', () => {
  test.each([
    ['unionised-ammonia', { tan: 1, basis: 'N', tempC: 25, pH: 10.5 }, 'pH', 5, 10],
    ['unionised-ammonia', { tan: 1, basis: 'N', tempC: 51, pH: 8 }, 'tempC', 0, 50],
    ['unionised-ammonia', { tan: 1, basis: 'N', tempC: 45, pH: 8, salinityGkg: 1 }, 'tempC', 0, 40],
    ['ammonia-criteria', { tempC: 31, pH: 7 }, 'tempC', 0, 30],
    ['ammonia-criteria', { tempC: 20, pH: 6.4 }, 'pH', 6.5, 9],
    ['oxygen-saturation', { tempC: 41 }, 'tempC', 0, 40],
    ['oxygen-saturation', { tempC: 25, salinityGkg: 41 }, 'salinityGkg', 0, 40],
    ['oxygen-saturation', { tempC: 25, altitudeM: 9000 }, 'altitudeM', -450, 5500],
    ['buffer-ph', { buffer: 'nist-4.01', tempC: 51 }, 'tempC', 0, 50]
  ] as const)('%s of %o says %s, from %d to %d and who says so', (name, body, field, low, high) => {
    const refusal = refusalOf(name, body)
    expect(refusal.code).toBe('WATER_OUT_OF_RANGE')
    expect(refusal.extra).toMatchObject({ field, low, high })
    expect(String(refusal.extra.source).length).toBeGreaterThan(10)
    expect(refusal.detail).toContain(field)
  })

  test('names the field in the measure of the body: total ammonia as NH4, a buffer by its place', () => {
    const negative = refusalOf('unionised-ammonia', { tan: -1, basis: 'NH4', tempC: 25, pH: 8 })
    expect(negative.extra).toMatchObject({ field: 'tan', value: -1, low: 0 })
    const body = {
      millivolts: 0,
      tempC: 25,
      calibration: [
        { buffer: 'nist-6.86', tempC: 25, millivolts: 0 },
        { buffer: 'nist-4.01', tempC: 80, millivolts: 170 }
      ]
    }
    expect(refusalOf('electrode', body).extra.field).toBe('calibration.1.tempC')
  })
})

describe('what does not go together is said in words', () => {
  test.each([
    ['ammonia-dose', { volumeL: 100, targetMgLAsN: 2, source: 'ammonia-solution' }, 'percent'],
    ['oxygen-saturation', { tempC: 25, pressureAtm: 1, altitudeM: 0 }, 'not both'],
    ['water-change', { now: 80, tap: 5 }, 'target or fraction'],
    ['water-change', { now: 80, tap: 5, target: 20, fraction: 0.3 }, 'target or fraction'],
    ['water-change', { now: 80, tap: 5, target: 20, times: 2 }, 'times goes with fraction'],
    ['cooling', { startC: 25, roomC: 20, tauH: 10 }, 'hours or untilC'],
    ['cooling', { startC: 25, roomC: 20, hours: 1 }, 'uaWPerK or tauH'],
    ['cooling', { startC: 25, roomC: 20, uaWPerK: 6, hours: 1 }, 'volumeL'],
    ['unionised-ammonia', { tan: 1, basis: 'NO2', tempC: 25, pH: 8 }, 'basis'],
    ['unionised-ammonia', { tan: 1, basis: 'N', tempC: 25, pH: 8, plusMinus: { nitrite: 1 } }, 'plusMinus'],
    [
      'batch-nitrification',
      { tanMgLAsN: 4, aob: guild, nob: guild, days: 5, plusMinus: { days: 1 } },
      'plusMinus'
    ]
  ] as const)('%s of %o', (name, body, words) => {
    const refusal = refusalOf(name, body)
    expect(refusal.code).toBe('API_BAD_INPUT')
    expect(refusal.detail).toContain(words)
  })
})

describe('the two sides of a calculator', () => {
  test('cooling answers a temperature or hours, with the time constant given or worked out', () => {
    const { tempC, tauH } = ask('cooling', { startC: 25, roomC: 20, volumeL: 54, uaWPerK: 6, hours: 3 })
    const back = ask('cooling', { startC: 25, roomC: 20, tauH, untilC: tempC })
    expect(back.hours).toBeCloseTo(3, 9)
    expect(back.tauH).toBe(tauH)
    expect(refusalOf('cooling', { startC: 25, roomC: 20, tauH: 0, hours: 3 }).extra.field).toBe('tauH')
    expect(refusalOf('cooling', { startC: 25, roomC: 20, tauH: 9, untilC: 30 }).extra.field).toBe('untilC')
  })

  test('a change answers what is left after several, or what share is needed, or that none will do', () => {
    expect(ask('water-change', { now: 1, tap: 0, fraction: 0.25, times: 2 })).toEqual({
      after: 0.5625,
      reachable: true
    })
    expect(ask('water-change', { now: 1.2, tap: 0.5, target: 0.4 })).toEqual({
      fraction: null,
      reachable: false
    })
  })

  test('ammonia comes as grams of salt or millilitres of solution', () => {
    const given = { volumeL: 100, targetMgLAsN: 2 }
    expect(ask('ammonia-dose', { ...given, source: 'ammonium-chloride' }).grams).toBeCloseTo(0.7638, 3)
    const { millilitres } = ask('ammonia-dose', { ...given, source: 'ammonia-solution', percent: 10 })
    expect(millilitres).toBeCloseTo(2.538, 2)
  })

  test('the basis of a kit is honoured: 1 mg/L as NH4 at 25 degC and pH 8 is 0.0507 mg NH3/L (0.05366 x 17.031/18.039)', () => {
    expect(ask('unionised-ammonia', { tan: 1, basis: 'NH4', tempC: 25, pH: 8 }).nh3MgL).toBeCloseTo(
      0.05066,
      4
    )
  })
})

describe('errors given with a body', () => {
  test('come back as low and high beside every number, and leave the value as it is', () => {
    const plain = { tan: 1, basis: 'N', tempC: 25, pH: 8 }
    const answer = ask('unionised-ammonia', { ...plain, plusMinus: { tan: 0.25, pH: 0.2, tempC: 0.5 } })
    const { spans, ...values } = answer as {
      spans: Record<string, { value: number; low: number; high: number }>
    }
    expect(values).toEqual(ask('unionised-ammonia', plain))
    const low = ask('unionised-ammonia', { tan: 0.75, basis: 'N', tempC: 24.5, pH: 7.8 })
    const high = ask('unionised-ammonia', { tan: 1.25, basis: 'N', tempC: 25.5, pH: 8.2 })
    expect(spans.nh3MgL).toEqual({ value: answer.nh3MgL, low: low.nh3MgL, high: high.nh3MgL })
  })

  test('reach into the parts of a body, and stop at nothing for amounts', () => {
    const mix = ask('mix', { a: water, b: { ...water, pH: 8 }, plusMinus: { 'a.pH': 0.2 } })
    const spans = mix.spans as Record<string, { low: number; high: number }>
    expect(spans.pHClosed?.low).toBeLessThan(spans.pHClosed?.high ?? 0)
    const trace = ask('nitrous-acid', {
      nitriteMgLAsN: 0.1,
      tempC: 25,
      pH: 7,
      plusMinus: { nitriteMgLAsN: 0.25 }
    })
    expect((trace.spans as typeof spans).hno2MgL?.low).toBe(0)
  })

  test('that lead out of the range refuse the whole', () => {
    const body = { tan: 1, basis: 'N', tempC: 25, pH: 9.9, plusMinus: { pH: 0.2 } }
    expect(refusalOf('unionised-ammonia', body).extra).toMatchObject({ field: 'pH', high: 10 })
  })

  test('are six at most', () => {
    const plusMinus = Object.fromEntries(Array.from({ length: 7 }, (_, i) => [`f${i}`, 1]))
    expect(refusalOf('co2', { khDKh: 4, pH: 7, tempC: 25, plusMinus }).detail).toContain('six')
  })
})
