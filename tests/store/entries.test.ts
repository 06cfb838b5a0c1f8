import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { ImportAll, NewEvent, NewTest } from '../../services/tank/record.ts'
import { type KitchenRecord, nightMs, openKitchen, reading } from './kitchen.ts'

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

const test = (more: Partial<NewTest> = {}): NewTest => ({
  tankId: 'kitchen',
  takenAtMs: nightMs,
  results: [
    { quantity: 'ammonia', value: 0.5, unit: 'mg/L', basis: 'NH4' },
    { quantity: 'nitrite', value: 0.05, unit: 'mg/L', atMost: true }
  ],
  by: 'keeper',
  atMs: nightMs + 5000,
  ...more
})
const event = (more: Partial<NewEvent> = {}): NewEvent => ({
  tankId: 'kitchen',
  atMs: nightMs,
  kind: 'water-changed',
  data: { fraction: 0.25, conditioner: true },
  by: 'keeper',
  enteredAtMs: nightMs + 5000,
  ...more
})
const tests = () => record.ask('tests', { tankId: 'kitchen' })
const events = () => record.ask('events', { tankId: 'kitchen' })

describe('tests and events', () => {
  it('come back in time order, as they were typed', () => {
    record.ask('addTest', test({ takenAtMs: nightMs + 1000, note: 'after lunch' }))
    record.ask('addTest', test())
    const [first, second] = tests()
    expect(first).toEqual({
      id: expect.stringMatching(/^t[0-9a-f]{16}$/),
      takenAtMs: nightMs,
      results: test().results
    })
    expect(second?.note).toBe('after lunch')
    record.ask('addEvent', event({ kind: 'note', data: undefined, note: 'all swim' }))
    expect(events()).toEqual([
      { id: expect.stringMatching(/^e[0-9a-f]{16}$/), atMs: nightMs, kind: 'note', note: 'all swim' }
    ])
  })

  it('answer the first id where the same client key comes again', () => {
    const first = record.ask('addTest', test({ clientKey: 'tap-1' }))
    const again = record.ask('addTest', test({ clientKey: 'tap-1', takenAtMs: nightMs + 1 }))
    expect(first.repeated).toBe(false)
    expect(again).toEqual({ id: first.id, repeated: true })
    expect(tests()).toHaveLength(1)
    expect(record.ask('addEvent', event({ clientKey: 'tap-1' })).repeated).toBe(false)
    expect(record.ask('addEvent', event({ clientKey: 'tap-1' })).repeated).toBe(true)
    expect(record.ask('addTest', test()).repeated).toBe(false)
  })

  it('are refused for a tank that does not exist', () => {
    expect(() => record.ask('addTest', test({ tankId: 'attic' }))).toThrow(/^API_NOT_FOUND/)
    expect(() => record.ask('addEvent', event({ tankId: 'attic' }))).toThrow(/^API_NOT_FOUND/)
  })

  it('answer a stretch with both ends in it, and the newest where a limit is set', () => {
    for (const step of [0, 1, 2, 3]) record.ask('addEvent', event({ atMs: nightMs + step }))
    const ask = { tankId: 'kitchen', fromMs: nightMs + 1, toMs: nightMs + 3 }
    expect(record.ask('events', ask).map(({ atMs }) => atMs - nightMs)).toEqual([1, 2, 3])
    expect(record.ask('events', { ...ask, limit: 2 }).map(({ atMs }) => atMs - nightMs)).toEqual([2, 3])
  })
})

describe('an amendment', () => {
  it('changes what is said now and keeps what was said before, by whom and when', () => {
    const { id } = record.ask('addTest', test({ note: 'first look' }))
    const before = tests()[0]
    const results = [{ quantity: 'ammonia' as const, value: 1, unit: 'mg/L' }]
    const change = { tankId: 'kitchen', id, body: { results }, by: 'helper', atMs: nightMs + 9000 }
    expect(record.ask('changeTest', change)).toBe(true)
    expect(tests()).toEqual([{ id, takenAtMs: nightMs, results, note: 'first look', amended: true }])
    expect(record.ask('amendments', { tankId: 'kitchen', id })).toEqual([
      { atMs: nightMs + 9000, by: 'helper', before, withdrawn: false }
    ])
  })

  it('moves an event in time, replaces its data and clears its note', () => {
    const { id } = record.ask('addEvent', event({ note: 'big one' }))
    const body = { atMs: nightMs - 60_000, data: { fraction: 0.5 }, note: '' }
    record.ask('changeEvent', { tankId: 'kitchen', id, body, by: 'keeper', atMs: nightMs })
    expect(events()).toEqual([
      { id, atMs: nightMs - 60_000, kind: 'water-changed', data: { fraction: 0.5 }, amended: true }
    ])
  })

  it('can withdraw an entry, which keeps it among the amendments', () => {
    const { id } = record.ask('addEvent', event())
    const before = events()[0]
    const withdrawal = { tankId: 'kitchen', id, body: null, by: 'keeper', atMs: nightMs + 1 }
    expect(record.ask('changeEvent', withdrawal)).toBe(true)
    expect(events()).toEqual([])
    expect(record.ask('amendments', { tankId: 'kitchen', id })).toEqual([
      { atMs: nightMs + 1, by: 'keeper', before, withdrawn: true }
    ])
    expect(record.ask('changeEvent', withdrawal)).toBe(false)
  })

  it('is told of all entries of a tank in order, where none is named', () => {
    const { id } = record.ask('addTest', test())
    const other = record.ask('addEvent', event())
    const change = { tankId: 'kitchen', body: {}, by: 'keeper' }
    record.ask('changeEvent', { ...change, id: other.id, atMs: nightMs + 1 })
    record.ask('changeTest', { ...change, id, body: null, atMs: nightMs + 2 })
    expect(
      record.ask('amendments', { tankId: 'kitchen' }).map(({ before, withdrawn }) => [before.id, withdrawn])
    ).toEqual([
      [other.id, false],
      [id, true]
    ])
    expect(record.ask('amendments', { tankId: 'attic' })).toEqual([])
  })

  it('answers no for what is not there, or of another sort or tank', () => {
    const { id } = record.ask('addEvent', event())
    const change = { tankId: 'kitchen', id, body: {}, by: 'keeper', atMs: nightMs }
    expect(record.ask('changeTest', change)).toBe(false)
    expect(record.ask('changeEvent', { ...change, id: 'e0' })).toBe(false)
    expect(record.ask('changeEvent', { ...change, tankId: 'attic' })).toBe(false)
  })
})

describe('importing a file', () => {
  const file = (more: Partial<ImportAll> = {}): ImportAll => ({
    tankId: 'kitchen',
    readings: [reading(), reading({ atMs: nightMs + 1000 }), reading({ atMs: nightMs - 400 * 86_400_000 })],
    tests: [test()],
    events: [event(), event({ kind: 'note', data: undefined, note: 'hello' })],
    ...more
  })

  it('takes all of it once, and a second time changes nothing', () => {
    expect(record.ask('importAll', file())).toEqual({
      readingsNew: 3,
      readingsSame: 0,
      conflicts: 0,
      testsNew: 1,
      testsSame: 0,
      eventsNew: 2,
      eventsSame: 0
    })
    const before = [tests(), events(), record.ask('probes', 'kitchen')]
    expect(record.ask('importAll', file())).toEqual({
      readingsNew: 0,
      readingsSame: 3,
      conflicts: 0,
      testsNew: 0,
      testsSame: 1,
      eventsNew: 0,
      eventsSame: 2
    })
    expect([tests(), events(), record.ask('probes', 'kitchen')]).toEqual(before)
  })

  it('knows an entry again after its share went through the file as percent', () => {
    record.ask('addEvent', event({ data: { fraction: 1 / 3, conditioner: true } }))
    const events = [event({ data: { conditioner: true, fraction: Number((100 / 3).toPrecision(12)) / 100 } })]
    expect(record.ask('importAll', file({ events }))).toMatchObject({ eventsNew: 0, eventsSame: 1 })
  })

  it('knows two tests of one moment again that a file put together', () => {
    const [ammonia, nitrite] = test().results
    record.ask('addTest', test({ results: ammonia ? [ammonia] : [] }))
    record.ask('addTest', test({ results: nitrite ? [nitrite] : [] }))
    expect(record.ask('importAll', file())).toMatchObject({ testsNew: 0, testsSame: 1 })
  })

  it('adds only the results of a test that are new', () => {
    const [ammonia, nitrite] = test().results
    record.ask('addTest', test({ results: ammonia ? [ammonia] : [] }))
    expect(record.ask('importAll', file())).toMatchObject({ testsNew: 1, testsSame: 0 })
    expect(tests().map(({ results }) => results)).toEqual([[ammonia], [nitrite]])
  })

  it('does not bring back what was amended or withdrawn since', () => {
    record.ask('importAll', file())
    const [first] = events()
    const [only] = tests()
    record.ask('changeEvent', {
      tankId: 'kitchen',
      id: first?.id ?? '',
      body: null,
      by: 'keeper',
      atMs: nightMs
    })
    record.ask('changeTest', {
      tankId: 'kitchen',
      id: only?.id ?? '',
      body: { results: [{ quantity: 'ph', value: 7, unit: 'pH' }] },
      by: 'keeper',
      atMs: nightMs
    })
    expect(record.ask('importAll', file())).toMatchObject({ testsNew: 0, eventsNew: 0 })
    expect(events()).toHaveLength(1)
  })

  it('takes nothing of a file of which one row cannot be kept', () => {
    const readings = [reading(), reading({ value: Number.NaN, atMs: nightMs + 1 })]
    expect(() => record.ask('importAll', file({ readings }))).toThrow(/^FILE_BAD_ROW: Reading 2/)
    expect(record.ask('health').readings).toBe(0)
    expect(record.opened.db.prepare('SELECT count(*) FROM rollup_minute').pluck().get()).toBe(0)
    expect(tests()).toEqual([])
    expect(record.ask('probes', 'kitchen')).toEqual([])
    expect(record.ask('importAll', file())).toMatchObject({ readingsNew: 3 })
  })

  it('finds a renamed probe under the name the file shows', () => {
    const probeId = record.ask('appendReadings', [reading()])[0]?.probeId ?? ''
    record.ask('renameProbe', { probeId, name: 'left' })
    const readings = [reading({ probe: 'left' }), reading({ probe: 'left', atMs: nightMs + 1 })]
    expect(record.ask('importAll', file({ readings }))).toMatchObject({ readingsNew: 1, readingsSame: 1 })
    expect(record.ask('probes', 'kitchen')).toHaveLength(1)
  })
})
