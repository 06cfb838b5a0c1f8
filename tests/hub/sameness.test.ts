import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { fishTank, hourMs, inOrder, minuteMs, probe, run, startMs } from './a-tank-week.ts'
import { keep, nothingKept, openKept } from './kept-watch.ts'

/** Noise that is the same in every run. */
function noise(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648
    return state / 2_147_483_648 - 0.5
  }
}

/** A day with a cooling, a dead probe for an hour, a power cut and a pH that makes the ammonia toxic. */
function aHardDay(): readonly ReplayRow[] {
  const shake = noise(11)
  const dark = (h: number): boolean => h > 17 && h < 18.5
  return inOrder(
    probe('t1', 'temperature', {
      hours: 30,
      at: (h) =>
        dark(h) ? null : 24.5 - (h > 2 && h < 10 ? Math.min(2.2, 0.5 * (h - 2)) : 0) + 0.06 * shake()
    }),
    probe('p1', 'ph', {
      hours: 30,
      everyS: 90,
      at: (h) =>
        dark(h) || (h > 12 && h < 13)
          ? null
          : 7.4 + (h > 20 ? Math.min(0.9, (h - 20) / 4) : 0) + 0.02 * shake()
    }),
    [
      {
        kind: 'test',
        line: 0,
        atMs: startMs + hourMs,
        results: [{ quantity: 'ammonia', value: 1, unit: 'mg/L' }]
      }
    ]
  )
}
const day = aHardDay()
const plain = run(day, fishTank)

test('the hard day rings each of its troubles once', () => {
  expect(plain.summary.alarms).toEqual({
    'water-cold': 1,
    'probe-silent': 1,
    'power-cut': 1,
    'ammonia-unsafe': 1,
    'ph-out-of-band': 1,
    'temperature-swing': 1
  })
})

describe('the same day', () => {
  test('twice gives the same, to the millisecond', () => expect(run(day, fishTank)).toEqual(plain))

  const raises = (rows: readonly ReplayRow[]) =>
    run(rows, fishTank)
      .changes.filter((change) => change.to === 'unacknowledged')
      .map(({ alarm, subject, atMs }) => ({ name: `${alarm} ${subject}`, atMs }))
  /** Silence is judged on arrival, and a shuffled file arrives otherwise. */
  const apart = ({ name }: Readonly<{ name: string }>): boolean => !/silent|power/.test(name)
  const expectNear = (rows: readonly ReplayRow[]): void => {
    const found = raises(rows).filter(apart)
    const wanted = raises(day).filter(apart)
    expect(wanted.length).toBeGreaterThan(1)
    expect(found.map(({ name }) => name)).toEqual(wanted.map(({ name }) => name))
    found.forEach(({ atMs }, index) => {
      expect(Math.abs(atMs - (wanted[index]?.atMs ?? 0))).toBeLessThanOrEqual(5 * minuteMs)
    })
  }
  test('doubled rings the same, silence too', () => {
    expect(raises(day.flatMap((row) => [row, row]))).toEqual(raises(day))
  })
  test('doubled, half the water is not changed twice, nor fish put in or food given', () => {
    const did = (
      h: number,
      event: 'water-changed' | 'fed' | 'fish-added',
      data: Extract<ReplayRow, { kind: 'event' }>['data']
    ): ReplayRow => ({ kind: 'event', line: 0, atMs: startMs + h * hourMs, event, data })
    const rows = inOrder(
      probe('t1', 'temperature', { hours: 30, at: () => 25 }),
      probe('p1', 'ph', { hours: 30, at: (h) => 7.4 + (h > 12 ? Math.min(0.9, (h - 12) / 4) : 0) }),
      [
        {
          kind: 'test',
          line: 0,
          atMs: startMs + hourMs,
          results: [{ quantity: 'ammonia', value: 1.4, unit: 'mg/L' }]
        },
        did(3, 'water-changed', { fraction: 0.5 }),
        did(4, 'fed', { grams: 0.2 }),
        did(5, 'fish-added', { speciesId: 'puntius-titteya', count: 2 })
      ]
    )
    const once = run(rows, fishTank)
    expect(once.summary.alarms['ammonia-unsafe']).toBe(1)
    const twice = run(
      rows.flatMap((row) => [row, row]),
      fishTank
    )
    expect(twice.changes).toEqual(once.changes)
    expect(twice.summary.unsafeSpells).toEqual(once.summary.unsafeSpells)
  })
  test('shuffled within five minutes rings the same, within five minutes', () => {
    const shake = noise(5)
    const late = day.map((row) => ({ row, arrivesMs: row.atMs + (shake() + 0.5) * 5 * minuteMs }))
    expectNear(late.toSorted((a, b) => a.arrivesMs - b.arrivesMs).map(({ row }) => row))
  })
})

describe('a restart', () => {
  const readings = day.flatMap((row): ReadingToStore[] =>
    row.kind !== 'reading'
      ? []
      : [
          {
            tankId: 'kitchen',
            probe: row.probe,
            quantity: row.quantity,
            value: row.value,
            atMs: row.atMs,
            arrivedAtMs: row.atMs + 800,
            clock: 'device',
            flag: 1
          }
        ]
  )
  const tests = [
    {
      id: 't1',
      takenAtMs: startMs + hourMs,
      results: [{ quantity: 'ammonia' as const, value: 1, unit: 'mg/L' }]
    }
  ]

  /** Runs the day minute by minute; at each restart only what was saved goes on. Answers every change of an alarm. */
  function live(restartMinutes: ReadonlySet<number>): readonly string[] {
    const saved = nothingKept()
    let ids = 0
    const open = (lastMinuteMs?: number): TankWatch =>
      openKept(saved, {
        tests,
        newId: () => `a${++ids}`,
        ...(lastMinuteMs === undefined ? {} : { lastMinuteMs })
      })
    let watch = open()
    let next = 0
    const acknowledgeAt = 7 * 60
    for (let minute = 0; minute <= 30 * 60; minute += 1) {
      const nowMs = startMs + minute * minuteMs
      const batch: ReadingToStore[] = []
      for (let one = readings[next]; one !== undefined && one.arrivedAtMs <= nowMs; one = readings[++next])
        batch.push(one)
      watch.feed(batch)
      saved.readings.push(...batch)
      const ask = saved.changes.find((change) => change.to === 'unacknowledged')
      if (minute === acknowledgeAt && ask !== undefined)
        watch.ask(ask.activationId, { on: 'acknowledge', by: 'keeper' }, nowMs)
      const { changes, slots } = watch.tick(nowMs)
      keep(saved, { changes, slots })
      if (restartMinutes.has(minute)) watch = open(nowMs)
    }
    return saved.changes.map(
      ({ atMs, activationId, kind, from, to, because }) =>
        `${(atMs - startMs) / minuteMs} ${activationId} ${kind} ${from}>${to} ${because}`
    )
  }

  const undisturbed = live(new Set())
  test('the day without one: acknowledged stays so until it clears', () => {
    const cold = undisturbed.filter((line) => line.includes('water-cold'))
    expect(cold.map((line) => line.split(' ')[3])).toEqual([
      'normal>unacknowledged',
      'unacknowledged>acknowledged',
      'acknowledged>normal'
    ])
  })
  test('at any minutes whatever changes nothing', () => {
    const minutes = fc.uniqueArray(fc.integer({ min: 1, max: 30 * 60 - 1 }), { minLength: 1, maxLength: 25 })
    fc.assert(
      fc.property(minutes, (list) => {
        expect(live(new Set(list))).toEqual(undisturbed)
      }),
      { numRuns: 12, seed: 3 }
    )
  }, 240_000)
})

describe('readings that come late', () => {
  const watch = (): TankWatch => {
    let ids = 0
    return makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
  }
  const reading = (atMs: number, value: number, arrivedAtMs: number): ReadingToStore => ({
    tankId: 'kitchen',
    probe: 't1',
    quantity: 'temperature',
    value,
    atMs,
    arrivedAtMs,
    clock: 'device',
    flag: 1
  })

  test('fill the past and never ring, however cold they were', () => {
    const tank = watch()
    const changes: AlarmChange[] = []
    for (let minute = 0; minute <= 240; minute += 1) {
      const nowMs = startMs + minute * minuteMs
      tank.feed([reading(nowMs, 24.5, nowMs)])
      // At minute 120 a board hands over two hours of 15 °C from the half minutes in between.
      if (minute === 120)
        for (let back = 119; back > 11; back -= 1)
          tank.feed([reading(nowMs - back * minuteMs + 30_000, 15, nowMs)])
      changes.push(...tank.tick(nowMs).changes)
    }
    expect(changes).toEqual([])
    const [channel] = tank.channels().of('temperature')
    const past = channel?.minutes.between({ fromMs: startMs + 30 * minuteMs, toMs: startMs + 31 * minuteMs })
    expect(past?.[0]?.value).toBeCloseTo((24.5 + 15) / 2, 9)
  })
})
