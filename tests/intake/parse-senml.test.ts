import { describe, expect, test } from 'vitest'
import { onlyReading, readingsOf, refusalOf, say } from './say.ts'

const topic = 'shoal/kitchen/senml'
const pack = (records: unknown) => say(topic, JSON.stringify(records))

/*
 * Numbers and rules: RFC 8428 (2018), sections 4.1 to 4.6 and the examples of section 5.1, as they stand in the
 * editors' copy core-wg/senml-spec. The examples' sensor names are put into our <probe>/<quantity> form.
 */
describe('the examples of RFC 8428', () => {
  test('a single data point now: 23.1 Cel', () => {
    expect(onlyReading(pack([{ n: 't1/temperature', u: 'Cel', v: 23.1 }]))).toEqual({
      probe: 't1',
      quantity: 'temperature',
      value: 23.1,
      deviceAtMs: null,
      offsetMs: 0
    })
  })
  test('six values a second apart before a base time of 1276020076.001, and a voltage at the base time', () => {
    const { readings } = readingsOf(
      pack([
        { bn: 'p1/', bt: 1.276020076001e9, bu: 'cm', bver: 5, n: 'ph-millivolts', u: 'V', v: 120.1 },
        ...[1.2, 1.3, 1.4, 1.5, 1.6].map((v, index) => ({ n: 'level', t: index - 5, v })),
        { n: 'level', v: 1.7 }
      ])
    )
    expect(readings[0]).toMatchObject({ quantity: 'ph-millivolts', deviceAtMs: 1_276_020_076_001 })
    expect(readings[0]?.value).toBeCloseTo(120_100, 9)
    const levels = readings.slice(1)
    expect(levels.map((reading) => reading.value)).toEqual([1.2, 1.3, 1.4, 1.5, 1.6, 1.7])
    expect(levels.map((reading) => reading.deviceAtMs)).toEqual(
      [0, 1, 2, 3, 4, 5].map((step) => 1_276_020_071_001 + step * 1000)
    )
  })
  test('a second base name takes over while the base time stays in force', () => {
    const message = readingsOf(
      pack([
        { bn: 'a/', bt: 1320078429, n: 'temperature', u: 'Cel', v: 25.2 },
        { n: 'humidity', u: '%RH', v: 30 },
        { bn: 'b/', n: 'temperature', u: 'Cel', v: 12.3 },
        { n: 'humidity', u: '%RH', v: 67 }
      ])
    )
    expect(message.readings.map(({ probe, value, deviceAtMs }) => [probe, value, deviceAtMs])).toEqual([
      ['a', 25.2, 1_320_078_429_000],
      ['b', 12.3, 1_320_078_429_000]
    ])
    expect(message.refusals.map((fault) => fault.code)).toEqual([
      'INTAKE_UNKNOWN_QUANTITY',
      'INTAKE_UNKNOWN_QUANTITY'
    ])
  })
  test('values every ten seconds after a base time of 1320067464', () => {
    const { readings } = readingsOf(
      pack([
        { bn: 't1/temperature', bt: 1.320067464e9, bu: 'Cel', v: 21.2 },
        { t: 10, v: 21.3 },
        { t: 20, v: 21.4 },
        { t: 30, v: 21.4 },
        { t: 40, v: 21.5 }
      ])
    )
    expect(readings.map((reading) => [reading.deviceAtMs, reading.value])).toEqual([
      [1_320_067_464_000, 21.2],
      [1_320_067_474_000, 21.3],
      [1_320_067_484_000, 21.4],
      [1_320_067_494_000, 21.4],
      [1_320_067_504_000, 21.5]
    ])
  })
  test('texts, truth values and data are refused one by one, and the number beside them is kept', () => {
    const message = readingsOf(
      pack([
        { bn: 't1/', n: 'temperature', u: 'Cel', v: 23.1 },
        { n: 'temperature', vs: 'Machine Room' },
        { n: 'temperature', vb: false },
        { n: 'temperature', vd: 'aGkgCg' }
      ])
    )
    expect(message.readings).toHaveLength(1)
    expect(message.refusals.map((fault) => fault.because)).toEqual([
      'not-a-number',
      'not-a-number',
      'not-a-number'
    ])
    expect(message.refusals[0]?.reason).toMatch(/^Record 2: /)
  })
})

describe('times: seconds from now below 2^28, Unix seconds from there on (2^28 = 1978-07-04T21:24:16Z)', () => {
  const timed = (fields: object) => onlyReading(pack([{ n: 't1/temperature', v: 24, ...fields }]))
  test('the last relative second and the first absolute one', () => {
    expect(timed({ t: 268_435_455 })).toMatchObject({ deviceAtMs: null, offsetMs: 268_435_455_000 })
    expect(timed({ t: 268_435_456 })).toMatchObject({
      deviceAtMs: Date.UTC(1978, 6, 4, 21, 24, 16),
      offsetMs: 0
    })
  })
  test('it is the sum of base time and time that counts, also where it crosses by accident', () => {
    expect(timed({ bt: 268_435_450, t: 10 })).toMatchObject({ deviceAtMs: 268_435_460_000 })
    expect(timed({ bt: 268_435_460, t: -10 })).toMatchObject({ deviceAtMs: null, offsetMs: 268_435_450_000 })
  })
  test('five seconds ago', () =>
    expect(timed({ t: -5 })).toMatchObject({ deviceAtMs: null, offsetMs: -5000 }))
  test('zero is now, from a board without a clock', () =>
    expect(timed({ t: 0 })).toMatchObject({ deviceAtMs: null, offsetMs: 0 }))
  test('a time beyond all doubles refuses its record', () => {
    const message = readingsOf(pack([{ n: 't1/temperature', v: 24, t: -1e307 }]))
    expect(message.refusals).toMatchObject([{ code: 'INTAKE_BAD_TIME' }])
  })
})

describe('base fields', () => {
  test('a base value is added, and stands alone where a record has none', () => {
    const { readings } = readingsOf(
      pack([
        { bn: 't1/', bv: 20 },
        { n: 'temperature', v: 4.5 },
        { n: 'temperature', t: -1 },
        { bv: 10, n: 'temperature', v: 4.5 }
      ])
    )
    expect(readings.map((reading) => reading.value)).toEqual([24.5, 20, 14.5])
  })
  test('a unit of the record goes before the base unit', () => {
    const { readings } = readingsOf(
      pack([
        { bn: 't1/temperature', bu: 'Cel', v: 25 },
        { u: 'K', v: 298.15 }
      ])
    )
    expect(readings.map((reading) => reading.value)).toEqual([25, 25])
  })
  test('unknown fields are passed over', () => {
    expect(onlyReading(pack([{ n: 't1/temperature', v: 24, rssi: -60, blob: { deep: [1] } }])).value).toBe(24)
  })
})

describe('a pack that breaks the standard is refused whole', () => {
  const good = { n: 't1/temperature', v: 24 }
  const refusals: readonly (readonly [title: string, records: unknown, because: string])[] = [
    ['an object instead of a list', good, 'not-a-pack'],
    ['an empty list', [], 'not-a-pack'],
    ['a number', 24.5, 'not-a-pack'],
    ['a record that is a number', [good, 24.5], 'record-not-object'],
    ['a record that is a list', [[good]], 'record-not-object'],
    ['a field that must be understood', [good, { ...good, future_: 1 }], 'must-understand'],
    ['a value in quotes', [good, { ...good, v: '24' }], 'wrong-type'],
    ['a name that is a number', [{ n: 1, v: 24 }], 'wrong-type'],
    ['a time in quotes', [{ ...good, t: '0' }], 'wrong-type'],
    ['a null value', [{ ...good, v: null }], 'wrong-type'],
    ['a version of the future', [{ bver: 11, ...good }], 'unknown-version'],
    ['a version that is no whole number', [{ bver: 9.5, ...good }], 'unknown-version'],
    ['two values in one record', [{ ...good, vs: 'warm' }], 'several-values']
  ]
  for (const [title, records, because] of refusals)
    test(title, () => expect(refusalOf(pack(records))).toMatchObject({ code: 'INTAKE_BAD_SENML', because }))
  test('version 10, the default of the standard, is understood', () => {
    expect(onlyReading(pack([{ bver: 10, ...good }])).value).toBe(24)
  })
  test('broken JSON is refused as such', () => {
    expect(refusalOf(say(topic, '[{"n":"t1/temperature","v":24'))).toMatchObject({ because: 'broken-json' })
    expect(refusalOf(say(topic, '[{"n":"t1/ph","v":1,"v":2}]'))).toMatchObject({ because: 'duplicate-key' })
    expect(refusalOf(say(topic, '[{"n":"t1/ph","v":1e309}]'))).toMatchObject({ because: 'number-too-large' })
  })
})

describe('a record that is not for us is refused alone', () => {
  const refusals: readonly (readonly [title: string, record: object, because: string])[] = [
    ['a name without quantity', { n: 't1', v: 1 }, 'bad-name'],
    ['no name', { v: 1 }, 'bad-name'],
    ['a device number of the standard', { n: 'urn:dev:ow:10e2073a01080063', v: 23.1 }, 'bad-name'],
    ['a level too many', { n: 'a/b/temperature', v: 1 }, 'bad-name'],
    ['a hostile name', { n: '<script>/ph', v: 1 }, 'bad-name'],
    ['a quantity nobody keeps', { n: 't1/humidity', v: 1 }, 'unknown-quantity'],
    ['a unit that does not fit', { n: 't1/ph', u: 'Cel', v: 1 }, 'unit-does-not-fit'],
    ['a sum alone', { n: 't1/ph', s: 7 }, 'sum-only'],
    ['no value', { n: 't1/ph', t: 5 }, 'no-value'],
    ['values that overflow together', { bv: 1.7e308, n: 't1/ph', v: 1.7e308 }, 'number-too-large']
  ]
  for (const [title, record, because] of refusals)
    test(title, () => {
      const message = readingsOf(pack([{ n: 't2/temperature', v: 24 }, record]))
      expect(message.refusals).toMatchObject([{ because }])
      expect(message.readings).toMatchObject([{ probe: 't2', value: 24 }])
    })
})
