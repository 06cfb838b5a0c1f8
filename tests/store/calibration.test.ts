import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { NewCalibration } from '../../services/tank/probe-notes.ts'
import type { ReadingToStore, SeriesAnswer } from '../../services/tank/record.ts'
import { type KitchenRecord, nightMs, openKitchen, reading } from './kitchen.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
/** A whole hour, so that hourly points hold whole hours of readings. */
const startMs = Math.ceil(nightMs / hourMs) * hourMs

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

const everyMinute = (
  count: number,
  of: (minute: number) => Partial<ReadingToStore>
): readonly ReadingToStore[] =>
  Array.from({ length: count }, (_, minute) => reading({ atMs: startMs + minute * minuteMs, ...of(minute) }))

const probeId = (): string => record.ask('probes', 'kitchen')[0]?.id ?? ''
const series = (quantity: 'temperature' | 'ph' | 'ph-millivolts', points = 3): SeriesAnswer =>
  record.ask('series', { tankId: 'kitchen', quantity, fromMs: startMs, toMs: startMs + 4 * hourMs, points })
const means = (answer: SeriesAnswer): readonly (number | null)[] => answer.points.map(({ mean }) => mean)
const offset = (fromHour: number, by: number, mode: 'step' | 'line' = 'step'): NewCalibration => ({
  probeId: probeId(),
  quantity: 'temperature',
  calibration: { kind: 'offset', offset: by, fromMs: startMs + fromHour * hourMs, mode, madeAtMs: startMs },
  by: 'keeper'
})

describe('a calibration', () => {
  it('made late corrects the past from its time on, raises the revision and leaves raw values alone', () => {
    record.ask(
      'appendReadings',
      everyMinute(240, () => ({ value: 24.5 }))
    )
    const before = series('temperature', 4)
    expect(means(before)).toEqual([24.5, 24.5, 24.5, 24.5])
    const made = record.ask('addCalibration', offset(2, -0.5))
    expect(made).toMatchObject({ repeated: false, fromMs: startMs + 2 * hourMs })
    const after = series('temperature', 4)
    expect(means(after)).toEqual([24.5, 24.5, 24, 24])
    expect(after.revision).toBeGreaterThan(before.revision)
    const [first, last] = [0, 239].map((minute) => {
      const atMs = startMs + minute * minuteMs
      return record.ask('readings', { tankId: 'kitchen', fromMs: atMs, toMs: atMs })[0]
    })
    expect(first).toMatchObject({ value: 24.5 })
    expect(first?.corrected).toBeUndefined()
    expect(last).toMatchObject({ value: 24.5, corrected: 24 })
  })

  it('corrects what comes after it as it comes, and says so in the answer', () => {
    record.ask('appendReadings', [reading({ atMs: startMs, value: 24.5 })])
    record.ask('addCalibration', offset(0, 0.25))
    const [answer] = record.ask('appendReadings', [reading({ atMs: startMs + minuteMs, value: 24 })])
    expect(answer).toMatchObject({ outcome: 'stored', corrected: 24.25 })
    const minutes = series('temperature', 500).points
    expect(minutes.map(({ mean }) => mean)).toEqual([24.75, 24.25])
  })

  it('as a line leads from the calibration before to its own in a straight line', () => {
    record.ask(
      'appendReadings',
      everyMinute(241, () => ({ value: 20 }))
    )
    record.ask('addCalibration', offset(0, 0))
    record.ask('addCalibration', offset(4, 1, 'line'))
    const readings = record.ask('readings', {
      tankId: 'kitchen',
      fromMs: startMs,
      toMs: startMs + 4 * hourMs
    })
    expect(readings[60]?.corrected).toBeCloseTo(20.25, 9)
    expect(readings[120]?.corrected).toBeCloseTo(20.5, 9)
    expect(readings[240]?.corrected).toBeCloseTo(21, 9)
  })

  it('withdrawn restores what stood before, with yet another revision', () => {
    record.ask(
      'appendReadings',
      everyMinute(240, (minute) => ({ value: 24 + (minute % 7) / 16 }))
    )
    const before = series('temperature')
    const { id } = record.ask('addCalibration', offset(1, 0.7))
    const between = series('temperature')
    expect(means(between)).not.toEqual(means(before))
    const ask = { probeId: probeId(), id, by: 'keeper', atMs: startMs }
    expect(record.ask('withdrawCalibration', ask)).toMatchObject({ fromMs: startMs + hourMs })
    const after = series('temperature')
    expect(after.points).toEqual(before.points)
    expect(after.revision).toBeGreaterThan(between.revision)
    expect(record.ask('withdrawCalibration', ask)).toBeNull()
    expect(record.ask('probeNotes', 'kitchen')[0]?.calibrations).toMatchObject([
      { id, withdrawnAtMs: startMs }
    ])
  })

  it('of an earlier life does not count in the next, and a withdrawn life brings it back', () => {
    record.ask(
      'appendReadings',
      everyMinute(240, () => ({ value: 20 }))
    )
    record.ask('addCalibration', offset(0, 1))
    const life = record.ask('addProbeLife', {
      probeId: probeId(),
      fromMs: startMs + 2 * hourMs,
      by: 'keeper',
      atMs: startMs
    })
    expect(means(series('temperature', 4))).toEqual([21, 21, 20, 20])
    record.ask('withdrawProbeLife', { probeId: probeId(), id: life.id, by: 'keeper', atMs: startMs })
    expect(means(series('temperature', 4))).toEqual([21, 21, 21, 21])
  })

  it('told twice with one client key stands once', () => {
    record.ask('appendReadings', [reading()])
    const ask = { ...offset(0, 1), clientKey: 'k1' }
    const first = record.ask('addCalibration', ask)
    expect(record.ask('addCalibration', ask)).toMatchObject({ id: first.id, repeated: true })
    expect(record.ask('probeNotes', 'kitchen')[0]?.calibrations).toHaveLength(1)
  })
})

describe('millivolts', () => {
  const acid = (minute: number, millivolts: number): ReadingToStore =>
    reading({
      probe: 'p1',
      quantity: 'ph-millivolts',
      value: millivolts,
      atMs: startMs + minute * minuteMs
    })
  const ideal = (): NewCalibration => ({
    probeId: record.ask('probes', 'kitchen').find(({ name }) => name === 'p1')?.id ?? '',
    quantity: 'ph',
    calibration: {
      kind: 'electrode',
      slopeFrac: 1,
      zeroMv: 0,
      fromMs: startMs,
      mode: 'step',
      madeAtMs: startMs
    },
    by: 'keeper'
  })

  it('become pH once the electrode is calibrated: the past and what comes after', () => {
    record.ask('appendReadings', [acid(0, -59.16)])
    expect(series('ph', 500).points).toEqual([])
    record.ask('addCalibration', ideal())
    const [answer] = record.ask('appendReadings', [acid(1, 59.16)])
    // 59.16 mV a pH at 25 degC, the temperature taken where none is known: Nernst, any textbook.
    expect(answer?.corrected).toBeCloseTo(6, 3)
    const shown = means(series('ph', 500))
    expect(shown[0]).toBeCloseTo(8, 3)
    expect(shown[1]).toBeCloseTo(6, 3)
    expect(means(series('ph-millivolts', 500))).toEqual([-59.16, 59.16])
    const channels = record.ask('probes', 'kitchen').find(({ name }) => name === 'p1')?.quantities
    expect(channels).toMatchObject([
      { quantity: 'ph-millivolts' },
      { quantity: 'ph', computed: true, leading: true }
    ])
    const said = record.ask('readings', {
      tankId: 'kitchen',
      quantity: 'ph',
      fromMs: startMs,
      toMs: startMs + hourMs
    })
    expect(said.map(({ value }) => value.toFixed(2))).toEqual(['8.00', '6.00'])
    const exported = record.ask('exportSlice', {
      tankId: 'kitchen',
      fromMs: startMs,
      toMs: startMs + hourMs,
      limit: 10
    })
    expect(exported.map(({ quantity }) => quantity)).toEqual(['ph-millivolts', 'ph-millivolts'])
  })

  it('are read at the temperature of the water where it is known', () => {
    record.ask('appendReadings', [reading({ atMs: startMs, value: 5 }), acid(1, -55.19)])
    record.ask('addCalibration', ideal())
    // 55.19 mV a pH at 5 degC: 54.20 at 0 degC and 59.16 at 25 degC of any table, along the line.
    expect(means(series('ph', 500))[0]).toBeCloseTo(8, 2)
  })
})

describe('a later judgement', () => {
  const judged = (minute: number, flag: 1 | 3 | 4, why: string | null) => ({
    tankId: 'kitchen',
    probe: 't1',
    quantity: 'temperature' as const,
    atMs: startMs + minute * minuteMs,
    flag,
    why
  })

  it('takes a spike out of the roll-ups, counts it apart, and leaves the flag of arrival', () => {
    const readings = everyMinute(60, (minute) => ({ value: minute === 30 ? 40 : 24 }))
    record.ask('appendReadings', readings)
    const before = series('temperature', 4)
    expect(before.points[0]?.max).toBe(40)
    expect(record.ask('judgeReadings', [judged(30, 4, 'spike')])).toBe(1)
    const after = series('temperature', 4)
    expect(after.points[0]).toMatchObject({ mean: 24, max: 24, count: 59, countBad: 1, flag: 4 })
    expect(after.revision).toBeGreaterThan(before.revision)
    const atMs = startMs + 30 * minuteMs
    expect(record.ask('readings', { tankId: 'kitchen', fromMs: atMs, toMs: atMs })[0]).toMatchObject({
      value: 40,
      flag: 1,
      judged: { flag: 4, why: 'spike' }
    })
    // The same again is nothing new, and taken back it is as it was.
    expect(record.ask('judgeReadings', [judged(30, 4, 'spike')])).toBe(0)
    expect(record.ask('judgeReadings', [judged(30, 1, null)])).toBe(1)
    expect(series('temperature', 4).points).toEqual(before.points)
  })

  it('of suspect keeps the value in the roll-ups and shows the worst flag', () => {
    record.ask(
      'appendReadings',
      everyMinute(60, () => ({}))
    )
    record.ask('judgeReadings', [judged(10, 3, 'rate-of-change')])
    expect(series('temperature', 4).points[0]).toMatchObject({ count: 60, countBad: 0, flag: 3 })
  })

  it('goes into the hour and minute roll-ups alike', () => {
    record.ask(
      'appendReadings',
      everyMinute(120, () => ({}))
    )
    record.ask('judgeReadings', [judged(5, 4, 'spike'), judged(65, 4, 'spike')])
    const sums = (table: string): unknown =>
      record.opened.db.prepare(`SELECT sum(count) AS good, sum(count_bad) AS bad FROM ${table}`).get()
    expect(sums('rollup_minute')).toEqual({ good: 118, bad: 2 })
    expect(sums('rollup_hour')).toEqual({ good: 118, bad: 2 })
  })
})

it('the leading probe is the chosen one, with the time from which on', () => {
  record.ask('appendReadings', [reading(), reading({ probe: 't2', value: 26 })])
  expect(means(series('temperature', 500))).toEqual([])
  const t2 = record.ask('probes', 'kitchen').find(({ name }) => name === 't2')
  const ask = { probeId: t2?.id ?? '', quantity: 'temperature' as const, by: 'keeper', atMs: nightMs }
  record.ask('chooseLead', { ...ask, fromMs: nightMs })
  const leads = record.ask('probes', 'kitchen').map(({ name, quantities }) => [name, quantities[0]?.leading])
  expect(leads).toEqual([
    ['t1', false],
    ['t2', true]
  ])
  expect(record.ask('probeNotes', 'kitchen')[1]?.leads).toEqual([
    { quantity: 'temperature', fromMs: nightMs }
  ])
  expect(() => record.ask('chooseLead', { ...ask, quantity: 'ph', fromMs: nightMs })).toThrow(/measure/)
})
