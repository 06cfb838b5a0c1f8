import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { AppendAnswer } from '../../services/tank/record.ts'
import { type KitchenRecord, nightMs, openKitchen, reading } from './kitchen.ts'

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

const append = (...batch: Parameters<typeof reading>[0][]): readonly AppendAnswer[] =>
  record.ask('appendReadings', batch.map(reading))
const outcomes = (answers: readonly AppendAnswer[]): readonly string[] =>
  answers.map(({ outcome }) => outcome)
const kept = (more: object = {}) =>
  record.ask('readings', { tankId: 'kitchen', fromMs: 0, toMs: nightMs * 2, ...more })

describe('the key of a reading is probe, quantity and time', () => {
  it('keeps a reading as it was received, with its times, clock, flag and reason', () => {
    append({ value: 24.5625, arrivedAtMs: nightMs + 7000, flag: 3, flagWhy: 'spike' })
    const { probeId, ...rest } = kept()[0] ?? { probeId: '' }
    expect(probeId).toMatch(/^p[0-9a-f]{16}$/)
    expect(rest).toEqual({
      tankId: 'kitchen',
      probe: 't1',
      quantity: 'temperature',
      value: 24.5625,
      atMs: nightMs,
      arrivedAtMs: nightMs + 7000,
      clock: 'device',
      flag: 3,
      flagWhy: 'spike'
    })
  })

  it('stores the same reading once, however often it comes', () => {
    expect(outcomes(append({}, {}))).toEqual(['stored', 'same'])
    expect(outcomes(append({}))).toEqual(['same'])
    expect(kept()).toHaveLength(1)
  })

  it('keeps the first of two values of one time and lays the second aside, counted once', () => {
    append({ value: 24 })
    expect(outcomes(append({ value: 25 }, { value: 25 }, { value: 26 }))).toEqual([
      'conflict',
      'conflict',
      'conflict'
    ])
    expect(kept().map(({ value }) => value)).toEqual([24])
    expect(record.ask('probes', 'kitchen')[0]?.quantities[0]?.conflicts).toBe(2)
    const aside = record.opened.db.prepare('SELECT value FROM conflict ORDER BY value').pluck().all()
    expect(aside).toEqual([25, 26])
  })

  it('gives each reading of a burst with one arrival time its own millisecond', () => {
    const burst = Array.from({ length: 500 }, () => ({ clock: 'arrival' as const, value: 24.5 }))
    const answers = append(...burst)
    expect(new Set(answers.map(({ atMs }) => atMs)).size).toBe(500)
    expect(answers.at(-1)?.atMs).toBe(nightMs + 499)
    expect(kept()).toHaveLength(500)
  })

  it('takes the next free millisecond also where other bursts and device times are in the way', () => {
    append({ atMs: nightMs + 2 })
    const answers = append(
      { clock: 'arrival', atMs: nightMs + 1 },
      { clock: 'arrival', atMs: nightMs + 1 },
      { clock: 'arrival', atMs: nightMs },
      { clock: 'arrival', atMs: nightMs },
      { clock: 'arrival', atMs: nightMs + 2 }
    )
    expect(answers.map(({ atMs }) => atMs - nightMs)).toEqual([1, 3, 0, 4, 5])
    expect(outcomes(answers)).not.toContain('same')
  })

  it('stores nothing for a tank that does not exist', () => {
    expect(outcomes(append({ tankId: 'attic' }))).toEqual(['no-tank'])
    expect(record.ask('health').readings).toBe(0)
  })

  it.each([
    ['NaN', { value: Number.NaN }],
    ['infinity', { value: Number.POSITIVE_INFINITY }],
    ['a time that is no whole millisecond', { atMs: nightMs + 0.5 }],
    ['a time beyond all calendars', { atMs: 1e300 }],
    ['an unknown flag', { flag: 7 as 1 }],
    ['a probe without a name', { probe: '' }],
    ['an unknown quantity', { quantity: 'redox' as 'ph' }]
  ])('calls %s unusable and keeps its neighbours', (_name, bad) => {
    expect(outcomes(append({ atMs: nightMs - 1 }, bad, { atMs: nightMs + 1 }))).toEqual([
      'stored',
      'unusable',
      'stored'
    ])
    expect(kept()).toHaveLength(2)
  })
})

describe('probes make themselves', () => {
  it('makes a probe on its first reading, and the first of a quantity leads', () => {
    const answers = append({ atMs: nightMs }, { probe: 't2' }, { atMs: nightMs + 1 })
    expect(answers.map(({ newProbe }) => newProbe)).toEqual([true, true, false])
    const leading = record
      .ask('probes', 'kitchen')
      .map(({ name, quantities }) => [name, quantities[0]?.leading])
    expect(leading).toEqual([
      ['t1', true],
      ['t2', false]
    ])
  })

  it('keeps a first reading that failed its test, but lets it lead nothing', () => {
    append({ probe: 'broken', value: -127, flag: 4 }, { probe: 'sound' })
    const leading = record
      .ask('probes', 'kitchen')
      .map(({ name, quantities }) => [name, quantities[0]?.leading])
    expect(leading).toEqual([
      ['broken', false],
      ['sound', true]
    ])
    expect(kept()).toHaveLength(2)
  })

  it('names the newest reading of a channel, also after older ones came late', () => {
    append({ atMs: nightMs + 60_000, value: 25 }, { atMs: nightMs, value: 24 })
    const [probe] = record.ask('probes', 'kitchen')
    expect(probe?.firstAtMs).toBe(nightMs)
    expect(probe?.quantities[0]).toMatchObject({ lastAtMs: nightMs + 60_000, lastValue: 25, lastFlag: 1 })
  })

  it('goes on hearing a board under its own name after its probe was renamed', () => {
    const probeId = append({})[0]?.probeId ?? ''
    record.ask('renameProbe', { probeId, name: 'left' })
    expect(append({ atMs: nightMs + 1 })[0]).toMatchObject({ probeId, newProbe: false })
    expect(kept().map(({ probe }) => probe)).toEqual(['left', 'left'])
  })

  it('refuses a name that another probe of the tank has', () => {
    append({ probe: 't1' })
    const probeId = append({ probe: 't2' })[0]?.probeId ?? ''
    expect(() => record.ask('renameProbe', { probeId, name: 't1' })).toThrow(/^API_CONFLICT/)
    expect(() => record.ask('renameProbe', { probeId: 'p0', name: 'x' })).toThrow(/^API_NOT_FOUND/)
  })
})

describe('reading back', () => {
  beforeEach(() => {
    append(...Array.from({ length: 10 }, (_, index) => ({ atMs: nightMs + index * 1000, value: 20 + index })))
    append(
      ...Array.from({ length: 10 }, (_, index) => ({
        probe: 'p1',
        quantity: 'ph' as const,
        value: 7,
        atMs: nightMs + index * 1000
      }))
    )
  })

  it('answers a stretch in time order with both ends in it', () => {
    const found = kept({ quantity: 'temperature', fromMs: nightMs + 2000, toMs: nightMs + 4000 })
    expect(found.map(({ value }) => value)).toEqual([22, 23, 24])
  })

  it('keeps the newest where a limit is set', () => {
    expect(kept({ quantity: 'temperature', limit: 2 }).map(({ value }) => value)).toEqual([28, 29])
    expect(kept({ limit: 4 }).map(({ atMs }) => (atMs - nightMs) / 1000)).toEqual([8, 8, 9, 9])
  })

  it.each([1, 3, 4, 7, 100])('exports everything exactly once in slices of %i', (limit) => {
    const all = []
    let afterMs = -1
    for (let turn = 0; turn < 40; turn += 1) {
      const slice = record.ask('exportSlice', {
        tankId: 'kitchen',
        fromMs: 0,
        toMs: nightMs * 2,
        afterMs,
        limit
      })
      if (slice.length === 0) break
      all.push(...slice)
      afterMs = slice.at(-1)?.atMs ?? 0
    }
    expect(all).toEqual(kept())
    expect(all).toHaveLength(20)
  })
})

describe('one bad row in a batch', () => {
  it('fails alone, also where only the file notices it', () => {
    record.opened.db.exec(
      `CREATE TRIGGER no_thirteen BEFORE INSERT ON reading WHEN NEW.value = 13
       BEGIN SELECT RAISE(ABORT, 'thirteen'); END`
    )
    const calls = [12, 13, 14].map((value, id) => ({
      id,
      name: 'appendReadings' as const,
      ask: [reading({ value, atMs: nightMs + id }), reading({ value: 20, atMs: nightMs + 100 + id })]
    }))
    const answers = record.committer.commit(calls)
    expect(
      answers.map((one) => ('answer' in one ? outcomes(one.answer as AppendAnswer[]) : 'failed'))
    ).toEqual([
      ['stored', 'stored'],
      ['unusable', 'stored'],
      ['stored', 'stored']
    ])
    expect(kept()).toHaveLength(5)
    expect(record.ask('health').readings).toBe(5)
    const counted = record.opened.db.prepare('SELECT sum(count) FROM rollup_minute').pluck().get()
    expect(counted).toBe(5)
  })

  it('lets a call that is refused leave the others in the same commit alone', () => {
    const answers = record.committer.commit([
      { id: 1, name: 'appendReadings', ask: [reading()] },
      { id: 2, name: 'renameProbe', ask: { probeId: 'nobody', name: 'x' } },
      { id: 3, name: 'putSettings', ask: { clock: '24' } }
    ])
    expect(answers.map((one) => 'failed' in one)).toEqual([false, true, false])
    expect(kept()).toHaveLength(1)
    expect(record.ask('settings')).toEqual({ clock: '24' })
  })
})
