import { describe, expect, test } from 'vitest'
import { onlyReading, refusalOf, say } from './say.ts'

const topic = 'shoal/kitchen/t1/temperature'
const plain = (payload: string) => say(topic, payload)

describe('a plain number is taken', () => {
  const taken: readonly (readonly [title: string, payload: string, value: number])[] = [
    ['as boards print it', '24.56', 24.56],
    ['whole', '24', 24],
    ['below zero', '-3.5', -3.5],
    ['with an exponent', '2.456e1', 24.56],
    ['padded with blanks, as fixed-width printing does', ' 24.5 ', 24.5],
    ['with a line end, as a shell pipe adds', '24.5\r\n', 24.5],
    ['minus zero, as zero', '-0', 0],
    ['zero', '0.00', 0]
  ]
  for (const [title, payload, value] of taken)
    test(title, () => {
      expect(onlyReading(plain(payload))).toEqual({
        probe: 't1',
        quantity: 'temperature',
        value,
        deviceAtMs: null,
        offsetMs: 0
      })
    })
})

describe('what is no number is refused with its reason', () => {
  const refusals: readonly (readonly [title: string, payload: string, because: string])[] = [
    ['nothing', '', 'empty'],
    ['blanks', '  \t\n', 'empty'],
    ['NaN', 'NaN', 'not-finite'],
    ['nan in small letters', 'nan', 'not-finite'],
    ['Infinity', 'Infinity', 'not-finite'],
    ['minus infinity', '-inf', 'not-finite'],
    ['a number beyond all doubles', '1e309', 'number-too-large'],
    ['a number that would vanish', '1e-400', 'number-too-small'],
    ['a hundred digits', '1'.repeat(100), 'number-too-long'],
    ['a decimal comma', '7,4', 'decimal-comma'],
    ['a hexadecimal number', '0x10', 'not-a-number'],
    ['a leading plus', '+24.5', 'not-a-number'],
    ['leading zeros', '007', 'not-a-number'],
    ['no digit after the point', '24.', 'not-a-number'],
    ['no digit before the point', '.5', 'not-a-number'],
    ['underscores', '1_000', 'not-a-number'],
    ['two numbers', '24.5 24.6', 'not-a-number'],
    ['a unit behind', '24.5 C', 'not-a-number'],
    ['a word', 'true', 'not-a-number'],
    ['null', 'null', 'not-a-number'],
    ['a number in quotes', '"24.5"', 'not-a-number'],
    ['Arabic-Indic digits', '٢٤', 'not-a-number'],
    ['a no-break space', '\u00a024.5', 'not-a-number'],
    ['a null character behind', '24.5\u0000', 'not-a-number'],
    ['a BigInt', '24n', 'not-a-number'],
    ['a driver that says it failed', 'Failed to read', 'not-a-number']
  ]
  for (const [title, payload, because] of refusals)
    test(title, () => {
      expect(refusalOf(plain(payload))).toMatchObject({ code: 'INTAKE_BAD_VALUE', because })
    })
  test('the reason shows the offending text, but never what could move a cursor', () => {
    expect(refusalOf(plain('24.5\u001b[31m')).reason).toContain('"24.5\ufffd[31m"')
  })
})

describe('JSON with unit and time', () => {
  test('the example of the documentation', () => {
    expect(onlyReading(plain('{"value":24.56,"unit":"Cel","time":"2026-11-25T02:14:00Z"}'))).toMatchObject({
      value: 24.56,
      deviceAtMs: Date.UTC(2026, 10, 25, 2, 14)
    })
  })
  // The fixed points of the scales: ITS-90 definition of the kelvin offset; 77 degF = 25 Cel by definition.
  const units: readonly (readonly [quantity: string, unit: string, value: number, inside: number])[] = [
    ['temperature', 'degF', 77, 25],
    ['temperature', 'K', 298.15, 25],
    ['room-temperature', 'Cel', 21, 21],
    ['ph', 'pH', 7.4, 7.4],
    ['ph-millivolts', 'V', 0.177, 177],
    ['heater-power', 'kW', 0.1, 100],
    ['conductivity', 'S/m', 0.05, 500],
    ['oxygen', 'kg/m3', 0.008, 8],
    ['level', 'm', 0.42, 42]
  ]
  for (const [quantity, unit, value, inside] of units)
    test(`${value} ${unit} of ${quantity} is ${inside} inside`, () => {
      const message = say(`shoal/kitchen/p/${quantity}`, JSON.stringify({ value, unit }))
      expect(onlyReading(message).value).toBeCloseTo(inside, 9)
    })

  const times: readonly (readonly [title: string, time: string, atMs: number])[] = [
    ['an offset', '"2026-11-25T03:14:00+01:00"', Date.UTC(2026, 10, 25, 2, 14)],
    ['milliseconds', '"2026-11-25T02:14:00.123Z"', Date.UTC(2026, 10, 25, 2, 14, 0, 123)],
    ['Unix seconds', '1764036840', 1_764_036_840_000],
    ['Unix seconds with a fraction', '1764036840.123', 1_764_036_840_123]
  ]
  for (const [title, time, atMs] of times)
    test(`time with ${title} is kept to the millisecond`, () => {
      expect(onlyReading(plain(`{"value":1,"time":${time}}`)).deviceAtMs).toBe(atMs)
    })
  test('a board that does not know the time yet may say null', () => {
    expect(onlyReading(plain('{"value":24.5,"time":null}')).deviceAtMs).toBeNull()
  })
  test('a byte order mark before the JSON does no harm', () => {
    expect(onlyReading(plain('\ufeff{"value":24.5}')).value).toBe(24.5)
  })

  const refusals: readonly (readonly [title: string, payload: string, code: string, because: string])[] = [
    ['a unit of another quantity', '{"value":24,"unit":"pH"}', 'INTAKE_BAD_UNIT', 'unit-does-not-fit'],
    ['a unit nobody registered', '{"value":24,"unit":"°C"}', 'INTAKE_BAD_UNIT', 'unit-does-not-fit'],
    ['an inherited name as a unit', '{"value":24,"unit":"toString"}', 'INTAKE_BAD_UNIT', 'unit-does-not-fit'],
    ['a number as a unit', '{"value":24,"unit":1}', 'INTAKE_BAD_UNIT', 'unit-not-text'],
    [
      'a time without offset',
      '{"value":24,"time":"2026-11-25T02:14:00"}',
      'INTAKE_BAD_TIME',
      'time-unreadable'
    ],
    [
      'a day that does not exist',
      '{"value":24,"time":"2026-02-30T02:14:00Z"}',
      'INTAKE_BAD_TIME',
      'time-unreadable'
    ],
    ['a time that is a word', '{"value":24,"time":"now"}', 'INTAKE_BAD_TIME', 'time-unreadable'],
    ['a time that is a list', '{"value":24,"time":[1]}', 'INTAKE_BAD_TIME', 'time-unreadable'],
    ['a time beyond all doubles', '{"value":24,"time":1e307}', 'INTAKE_BAD_TIME', 'time-unreadable'],
    ['no value', '{"unit":"Cel"}', 'INTAKE_BAD_VALUE', 'no-value'],
    ['a value in quotes', '{"value":"24.5"}', 'INTAKE_BAD_VALUE', 'not-a-number'],
    ['a value that is null', '{"value":null}', 'INTAKE_BAD_VALUE', 'not-a-number'],
    ['a value that is true', '{"value":true}', 'INTAKE_BAD_VALUE', 'not-a-number'],
    ['a value that is an object', '{"value":{"value":1}}', 'INTAKE_BAD_VALUE', 'not-a-number'],
    ['a value beyond all doubles', '{"value":1e309}', 'INTAKE_BAD_VALUE', 'number-too-large'],
    ['NaN as a value', '{"value":NaN}', 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['a misspelt unit', '{"value":76,"Unit":"degF"}', 'INTAKE_BAD_PAYLOAD', 'unknown-field'],
    ['the same field twice', '{"value":24,"value":25}', 'INTAKE_BAD_PAYLOAD', 'duplicate-key'],
    [
      'the same field twice, once escaped',
      '{"value":24,"\\u0076alue":25}',
      'INTAKE_BAD_PAYLOAD',
      'duplicate-key'
    ],
    ['a prototype', '{"__proto__":{"value":1},"value":24}', 'INTAKE_BAD_PAYLOAD', 'forbidden-key'],
    ['a constructor', '{"constructor":{"prototype":{}},"value":24}', 'INTAKE_BAD_PAYLOAD', 'forbidden-key'],
    ['nine levels of lists', `{"value":${'['.repeat(8)}1${']'.repeat(8)}}`, 'INTAKE_BAD_PAYLOAD', 'too-deep'],
    ['thirty thousand levels', '{"a":'.repeat(10_000), 'INTAKE_BAD_PAYLOAD', 'too-deep'],
    ['a comma at the end', '{"value":24,}', 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['a message cut off', '{"value":24.5,"ti', 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['something behind the object', '{"value":24} x', 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['single quotes', "{'value':24}", 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['a raw line break in a text', '{"value":24,"unit":"C\nel"}', 'INTAKE_BAD_PAYLOAD', 'broken-json'],
    ['a list', '[24.5]', 'INTAKE_BAD_PAYLOAD', 'list-on-plain-topic']
  ]
  for (const [title, payload, code, because] of refusals)
    test(`${title} is refused`, () => {
      expect(refusalOf(plain(payload))).toMatchObject({ code, because })
    })
  test('no key of a message reaches the prototype of anything', () => {
    plain('{"__proto__":{"polluted":true},"value":24}')
    expect(({} as Record<string, unknown>).polluted).toBeUndefined()
  })
})

describe('size and encoding', () => {
  test('64 KB are read, one byte more is too large', () => {
    const padded = (bytes: number) => plain(`24.5${' '.repeat(bytes - 4)}`)
    expect(onlyReading(padded(65_536)).value).toBe(24.5)
    expect(refusalOf(padded(65_537))).toMatchObject({ code: 'INTAKE_TOO_LARGE' })
  })
  test('10 MB are refused without being read', () => {
    expect(refusalOf(say(topic, new Uint8Array(10_000_000)))).toMatchObject({ code: 'INTAKE_TOO_LARGE' })
  })
  test('bytes that are no UTF-8 are refused', () => {
    expect(refusalOf(say(topic, Uint8Array.of(0xff, 0xfe, 0x32, 0x34)))).toMatchObject({
      code: 'INTAKE_BAD_PAYLOAD',
      because: 'not-utf8'
    })
  })
  test('a binary float is refused, not guessed', () => {
    expect(say(topic, new Uint8Array(new Float32Array([24.5]).buffer)).kind).toBe('refused')
  })
})
