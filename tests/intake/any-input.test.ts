import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseMessage } from '../../services/intake/parse-message.ts'
import { isProbeName } from '../../services/intake/parse-topic.ts'
import { refusalEntry } from '../../services/intake/refusal-entry.ts'
import { parseStrictJson } from '../../services/intake/strict-json.ts'
import { isQuantity, quantities } from '../../services/tank/quantity.ts'
import { onlyReading, say } from './say.ts'

const topics = fc.oneof(
  fc.constant('shoal/kitchen/t1/temperature'),
  fc.constant('shoal/kitchen/senml'),
  fc.string({ unit: 'binary' }),
  fc.array(fc.string(), { maxLength: 12 }).map((levels) => levels.join('/')),
  fc
    .tuple(fc.string(), fc.string(), fc.string())
    .map(([tank, probe, quantity]) => `shoal/${tank}/${probe}/${quantity}`)
)
const senmlField = fc.constantFrom(
  'bn',
  'bt',
  'bu',
  'bv',
  'bs',
  'bver',
  'n',
  'u',
  'v',
  'vs',
  'vb',
  'vd',
  's',
  't',
  'ut',
  'x_'
)
const senmlValue = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer(),
  fc.constantFrom('t1/', 't1/temperature', 'ph', 'Cel', 'K', '', null, true),
  fc.string()
)
const payloads = fc.oneof(
  fc.uint8Array({ maxLength: 200 }),
  fc.string({ unit: 'binary' }).map(bytesOf),
  fc.json().map(bytesOf),
  fc
    .array(fc.dictionary(senmlField, senmlValue), { maxLength: 6 })
    .map((records) => bytesOf(JSON.stringify(records))),
  fc
    .record({ value: fc.anything(), unit: fc.anything(), time: fc.anything() }, { requiredKeys: [] })
    .map((fields) => bytesOf(safeJson(fields)))
)

function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text)
}
function safeJson(value: unknown): string {
  try {
    return JSON.stringify(value) ?? ''
  } catch {
    return ''
  }
}

describe('whatever comes, the intake answers', () => {
  test('no topic and no payload make it throw, and what it takes is always a finite number of a known quantity', () => {
    fc.assert(
      fc.property(topics, payloads, (topic, payload) => {
        const message = parseMessage({ topic, payload })
        if (message.kind === 'refused') {
          expect(message.code).toMatch(/^INTAKE_[A-Z_]+$/)
          expect(message.reason.length).toBeGreaterThan(20)
          expect(message.reason.length).toBeLessThan(500)
        }
        if (message.kind !== 'readings') return
        for (const reading of message.readings) {
          expect(Number.isFinite(reading.value)).toBe(true)
          expect(isQuantity(reading.quantity) && isProbeName(reading.probe)).toBe(true)
          expect(Number.isFinite(reading.deviceAtMs ?? 0) && Number.isFinite(reading.offsetMs)).toBe(true)
        }
      }),
      { numRuns: 3000 }
    )
  })
  test('what the record keeps of a refused message is short and holds no control character', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.uint8Array({ maxLength: 2000 }), (topic, payload) => {
        const fault = { code: 'INTAKE_BAD_PAYLOAD', reason: 'a reason' } as const
        const entry = refusalEntry({ topic, payload, fault, atMs: 0, clientId: topic })
        for (const [text, most] of [
          [entry.topic, 201],
          [entry.payloadStart, 121],
          [entry.clientId ?? '', 65]
        ] as const) {
          expect(Array.from(text).length).toBeLessThanOrEqual(most)
          // biome-ignore lint/suspicious/noControlCharactersInRegex: their absence is what is checked.
          expect(text).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/)
        }
      }),
      { numRuns: 1000 }
    )
  })
})

describe('a number is taken exactly or not at all', () => {
  const plain = (text: string) => say('shoal/kitchen/t1/ph', text)
  test('every finite double survives its own text, plain and in JSON', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(onlyReading(plain(JSON.stringify(value))).value).toBe(value + 0)
        expect(onlyReading(plain(JSON.stringify({ value }))).value).toBe(value + 0)
      }),
      { numRuns: 2000 }
    )
  })
  test('a text that the language itself does not read as that number is never taken', () => {
    const nearlyNumbers = fc
      .array(fc.constantFrom(...'0123456789+-.,eExXnN _"Iitfya\u00a0٣'), { minLength: 1, maxLength: 8 })
      .map((letters) => letters.join(''))
    fc.assert(
      fc.property(nearlyNumbers, (text) => {
        const message = plain(text)
        // JSON.parse is the outside judge of what a number's text is.
        let judged: unknown
        try {
          judged = JSON.parse(text)
        } catch {
          judged = undefined
        }
        if (message.kind === 'readings') expect(onlyReading(message).value).toBe((judged as number) + 0)
        else expect(typeof judged === 'number' && Number.isFinite(judged) && judged !== 0).toBe(false)
      }),
      { numRuns: 5000 }
    )
  })
})

describe('the strict JSON reader agrees with the built-in one wherever that one is strict enough', () => {
  const plainOf = (value: unknown): unknown =>
    value instanceof Map
      ? Object.fromEntries(Array.from(value, ([key, inner]) => [key, plainOf(inner)]))
      : Array.isArray(value)
        ? value.map(plainOf)
        : value
  test('for any JSON of small depth it reads the same value', () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 3 }), (text) => {
        const read = parseStrictJson(text)
        if ('fault' in read)
          expect(['forbidden-key', 'number-too-small', 'number-too-long']).toContain(read.fault.because)
        else expect(plainOf(read.value)).toEqual(withoutMinusZero(JSON.parse(text)))
      }),
      { numRuns: 2000 }
    )
  })
  test('it takes no text that the built-in one refuses', () => {
    const scraps = fc
      .array(
        fc.constantFrom(
          '{',
          '}',
          '[',
          ']',
          '"a"',
          ':',
          ',',
          '1',
          '-',
          '.5',
          'true',
          'nul',
          ' ',
          '"\\u12"',
          '\\'
        ),
        {
          maxLength: 10
        }
      )
      .map((parts) => parts.join(''))
    fc.assert(
      fc.property(scraps, (text) => {
        if ('value' in parseStrictJson(text)) expect(() => JSON.parse(text)).not.toThrow()
      }),
      { numRuns: 5000 }
    )
  })
  const withoutMinusZero = (value: unknown): unknown =>
    JSON.parse(JSON.stringify(value), (_, inner: unknown) => (typeof inner === 'number' ? inner + 0 : inner))
})

test('every quantity of the house can be published on its own topic', () => {
  for (const quantity of quantities)
    expect(onlyReading(say(`shoal/a/b/${quantity}`, '1')).quantity).toBe(quantity)
})
