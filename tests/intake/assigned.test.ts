import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { heardLimits, makeHeardTopics } from '../../services/intake/heard-topics.ts'
import { parsePointer, pointerTo, valueAt } from '../../services/intake/json-pointer.ts'
import { parseAssigned } from '../../services/intake/parse-assigned.ts'
import { parseStrictJson } from '../../services/intake/strict-json.ts'
import type { Assignment } from '../../services/tank/assignment.ts'

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)

describe('a JSON pointer', () => {
  // RFC 6901, section 5: the document and what each pointer evaluates to; the empty key and "~" included.
  const document = `{"foo":["bar","baz"],"":0,"a/b":1,"c%d":2,"e^f":3,"g|h":4,"i\\\\j":5,"k\\"l":6," ":7,"m~n":8}`
  const parsed = parseStrictJson(document)
  const at = (pointer: string) => {
    const tokens = parsePointer(pointer)
    return 'value' in parsed && tokens !== null ? valueAt(parsed.value, tokens) : undefined
  }
  const published: readonly [string, unknown][] = [
    ['/foo', ['bar', 'baz']],
    ['/foo/0', 'bar'],
    ['/', 0],
    ['/a~1b', 1],
    ['/c%d', 2],
    ['/e^f', 3],
    ['/g|h', 4],
    ['/i\\j', 5],
    ['/k"l', 6],
    ['/ ', 7],
    ['/m~0n', 8]
  ]
  for (const [pointer, value] of published)
    test(`finds what the standard says: "${pointer}"`, () => expect(at(pointer)).toEqual(value))

  test('that is empty is the whole document', () => {
    expect('value' in parsed && at('') === parsed.value).toBe(true)
  })
  // RFC 6901, sections 3 and 4: a leading zero, "-" and a lone "~" point to nothing.
  for (const pointer of ['/foo/00', '/foo/01', '/foo/-', '/foo/2', '/foo/-1', '/nothing', '/foo/0/x'])
    test(`finds nothing where nothing is: "${pointer}"`, () => expect(at(pointer)).toBeUndefined())
  for (const pointer of ['foo', '/m~n', '/~', '/~2', ' /foo'])
    test(`is refused where the standard does not allow it: "${pointer}"`, () =>
      expect(parsePointer(pointer)).toBeNull())

  test('built from any key leads back to that key', () => {
    fc.assert(
      fc.property(fc.array(fc.string(), { maxLength: 5 }), (keys) => {
        expect(parsePointer(keys.reduce(pointerTo, ''))).toEqual(keys)
      })
    )
  })
})

const assignment = (change: Partial<Assignment> = {}): Assignment => ({
  id: 'a',
  topic: 'garage/pond',
  pointer: '/water/temp',
  quantity: 'temperature',
  unit: 'Cel',
  tankId: 'kitchen',
  probe: 'g1',
  madeAtMs: 0,
  ...change
})

describe('a message on an assigned topic', () => {
  const read = (payload: string, ...assignments: Assignment[]) =>
    parseAssigned({ payload: bytes(payload), assignments })

  const good: readonly [string, string, Partial<Assignment>, number][] = [
    ['a number deep in JSON', '{"water":{"temp":24.5}}', {}, 24.5],
    ['a number in quotes', '{"water":{"temp":" 24.5 "}}', {}, 24.5],
    ['the payload itself', ' 24.5\n', { pointer: '' }, 24.5],
    ['a JSON text that is a number', '"24.5"', { pointer: '' }, 24.5],
    ['an element of a list', '[1,[2,24.5]]', { pointer: '/1/1' }, 24.5],
    ['a value in the unit of the board', '{"t":76.1}', { pointer: '/t', unit: 'degF' }, 24.5],
    [
      'a heater that says kilowatts',
      '{"p":0.1}',
      { pointer: '/p', unit: 'kW', quantity: 'heater-power' },
      100
    ]
  ]
  for (const [name, payload, change, value] of good)
    test(`is read: ${name}`, () => {
      const { parsed, faults } = read(payload, assignment(change))
      expect(faults).toEqual([])
      expect(parsed).toHaveLength(1)
      expect(parsed[0]).toMatchObject({ tankId: 'kitchen' })
      expect(parsed[0]?.readings[0]).toMatchObject({ probe: 'g1', deviceAtMs: null, offsetMs: 0 })
      expect(parsed[0]?.readings[0]?.value).toBeCloseTo(value, 9)
    })

  const bad: readonly [string, string, Partial<Assignment>, string][] = [
    ['another shape', '{"other":1}', {}, 'pointer-finds-nothing'],
    ['a truth value', '{"water":{"temp":true}}', {}, 'not-a-number'],
    ['null, where a sensor is gone', '{"water":{"temp":null}}', {}, 'not-a-number'],
    ['a number with its unit in one text', '{"water":{"temp":"24.5 C"}}', {}, 'not-a-number'],
    ['a plain number where a pointer was given', '24.5', {}, 'pointer-finds-nothing'],
    ['JSON that breaks off', '{"water":{"temp":24', {}, 'broken-json'],
    ['nothing', '', { pointer: '' }, 'broken-json']
  ]
  for (const [name, payload, change, because] of bad)
    test(`is refused with its reason: ${name}`, () => {
      const { parsed, faults } = read(payload, assignment(change))
      expect(parsed).toEqual([])
      expect(faults.map((one) => one.because)).toEqual([because])
    })

  test('may feed several tanks and probes, and what one assignment misses harms no other', () => {
    const { parsed, faults } = read(
      '{"water":{"temp":24.5},"room":"19.25"}',
      assignment(),
      assignment({ pointer: '/room', quantity: 'room-temperature', probe: 'r1' }),
      assignment({ pointer: '/room', quantity: 'room-temperature', probe: 'r1', tankId: 'den' }),
      assignment({ pointer: '/ph', quantity: 'ph', unit: 'pH' })
    )
    expect(parsed.map(({ tankId, readings }) => [tankId, readings.map(({ value }) => value)])).toEqual([
      ['kitchen', [24.5, 19.25]],
      ['den', [19.25]]
    ])
    expect(faults).toHaveLength(1)
  })

  test('answers for any bytes and never throws', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.string({ maxLength: 20 }), (payload, pointer) => {
        const { parsed, faults } = parseAssigned({ payload, assignments: [assignment({ pointer })] })
        expect(parsed.length + faults.length).toBe(1)
      })
    )
  })
})

describe('listening to foreign topics', () => {
  const start = Date.UTC(2026, 10, 25, 12)
  const open = () => {
    const clock = { nowMs: start }
    return { clock, heard: makeHeardTopics({ nowMs: () => clock.nowMs }) }
  }

  test('keeps nothing before anybody asked, nor once nobody has asked for ten minutes', () => {
    const { clock, heard } = open()
    heard.hear({ topic: 'garage/pond', payload: bytes('1') })
    expect(heard.listen()).toBe(start + 600_000)
    expect(heard.heard().topics).toEqual([])
    heard.hear({ topic: 'garage/pond', payload: bytes('1') })
    expect(heard.heard().topics).toHaveLength(1)
    clock.nowMs += 600_000
    heard.hear({ topic: 'garage/pond', payload: bytes('1') })
    expect(heard.isListening()).toBe(false)
    heard.listen()
    expect(heard.heard().topics).toEqual([])
  })

  test('tells where the numbers of a message stand, and nothing else of it', () => {
    const { heard } = open()
    heard.listen()
    heard.hear({ topic: 'a', payload: bytes('{"name":"secret","t":"24.5","in":[{"p/h":7.1}],"on":true}') })
    expect(heard.heard().topics[0]).toMatchObject({
      count: 1,
      numbers: [
        { pointer: '/t', value: 24.5 },
        { pointer: '/in/0/p~1h', value: 7.1 }
      ],
      without: null
    })
    expect(JSON.stringify(heard.heard())).not.toContain('secret')
  })

  const without: readonly [string, Uint8Array, string][] = [
    ['words', bytes('ON'), 'no-number'],
    ['bytes', new Uint8Array([0xff, 0xfe]), 'not-text'],
    ['a picture', new Uint8Array(65_537), 'too-large']
  ]
  for (const [name, payload, why] of without)
    test(`says why there is no number: ${name}`, () => {
      const { heard } = open()
      heard.listen()
      heard.hear({ topic: 'a', payload })
      expect(heard.heard().topics[0]).toMatchObject({ numbers: [], without: why, bytes: payload.byteLength })
    })

  test('is bounded in topics and in numbers of each, and counts what found no room', () => {
    const { heard } = open()
    heard.listen()
    const many = `[${Array.from({ length: 5000 }, (_, index) => index).join(',')}]`
    for (let index = 0; index < heardLimits.topics + 50; index++)
      heard.hear({ topic: `t/${index}`, payload: bytes(many) })
    const { topics, more } = heard.heard()
    expect(topics).toHaveLength(heardLimits.topics)
    expect(more).toBe(50)
    expect(topics.every(({ numbers }) => numbers.length === heardLimits.numbersEach)).toBe(true)
  })
})
