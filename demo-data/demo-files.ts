import { csvHeadLine, csvLines, eventRow, readingRow, testRows } from '../services/contract/csv-write.ts'
import { type DemoAsk, type DemoPast, demoDayZeroMs, demoPast } from '../services/rehearsal/demo-scenario.ts'
import { demoSeed } from '../services/rehearsal/demo-tank.ts'
import type { TimedHappening } from '../services/rehearsal/happening.ts'
import type { TankEvent } from '../services/tank/event.ts'

/**
 * The files of this folder, made new from their seeds. All of it is invented: no real tank, keeper or kit.
 *
 * - `kitchen.json`: the profile of the tank, as `replay` and `forecast` take it.
 * - `kitchen.csv`: tests and events of three weeks, readings of the last seven days every five minutes: proof of the
 *   filter, water change, first fish, a meal too large, and on the last night a heater whose plug had come loose.
 * - `kitchen-cold-night.csv`: the same tank in a colder kitchen; the heater dies at half past nine in the evening and
 *   nobody notices before ten past nine. Readings of the last two days every two minutes.
 */
export function demoFiles(): ReadonlyMap<string, string> {
  const kitchen = demoPast(ask({ seed: demoSeed, everyMs: 5 * minuteMs, besides: looseNight }))
  const cold = demoPast(ask({ seed: 'cold night', everyMs: 2 * minuteMs, roomMeanC: 15, besides: coldNight }))
  return new Map([
    ['kitchen.json', jsonOf(kitchen.profile)],
    ['kitchen.csv', csvOf(kitchen, { readingsFromMs: at(14, '00:00'), more: looseNotes })],
    ['kitchen-cold-night.csv', csvOf(cold, { readingsFromMs: at(19, '12:00'), more: coldNotes })]
  ])
}

/** Lists of numbers stay in one line, as the formatter of this house wants them. */
const jsonOf = (value: unknown): string =>
  `${JSON.stringify(value, null, 2).replaceAll(/\[\s+([\d.,\s]+?)\s+\]/g, (_, list: string) => `[${list.replaceAll(/\s+/g, ' ')}]`)}\n`

const minuteMs = 60_000
const zone = { timeZone: 'Europe/Vienna', utcOffsetMinutes: 120 }
const nowMs = Date.parse('2026-09-28T20:00:00+02:00')
const ask = (of: Omit<DemoAsk, 'nowMs' | 'zone'>): DemoAsk => ({
  nowMs,
  zone,
  // Cold fish are not fed.
  storyEndsMs: at(21, '08:00'),
  ...of
})

function at(day: number, time: string): number {
  const [hours = '0', minutes = '0'] = time.split(':')
  return demoDayZeroMs({ nowMs, zone }) + (day * 1440 + Number(hours) * 60 + Number(minutes)) * minuteMs
}

const heaterOut = (
  from: Readonly<{ day: number; time: string }>,
  to: Readonly<{ day: number; time: string }>,
  kind: 'dead' | 'unplugged'
): readonly TimedHappening[] => [
  { atMs: at(from.day, from.time), happening: { kind: 'heater', health: { kind } } },
  { atMs: at(to.day, to.time), happening: { kind: 'heater', health: { kind: 'healthy' } } }
]
const looseNight = heaterOut({ day: 20, time: '22:50' }, { day: 21, time: '07:20' }, 'unplugged')
const coldNight = heaterOut({ day: 20, time: '21:30' }, { day: 21, time: '09:10' }, 'dead')

type Entry = Omit<TankEvent, 'id'>
const looseNotes: readonly Entry[] = [
  {
    atMs: at(21, '07:20'),
    kind: 'note',
    note: 'The heater’s plug hung half out of the socket. Pushed in; it glows.'
  }
]
const coldNotes: readonly Entry[] = [
  {
    atMs: at(21, '09:10'),
    kind: 'heater-changed',
    note: 'Cold and dark since last night: a new heater of 100 W.'
  }
]

function csvOf(past: DemoPast, given: Readonly<{ readingsFromMs: number; more: readonly Entry[] }>): string {
  const readings = past.readings
    .filter((reading) => reading.atMs >= given.readingsFromMs)
    .map((reading) => ({
      atMs: reading.atMs,
      rows: [
        readingRow({
          ...reading,
          tankId: past.tankId,
          arrivedAtMs: reading.atMs,
          clock: 'device',
          flag: 1
        })
      ]
    }))
  const tests = past.tests.map((test) => ({ atMs: test.takenAtMs, rows: testRows({ id: '', ...test }) }))
  const events = [...past.events, ...given.more].map((event) => ({
    atMs: event.atMs,
    rows: [eventRow({ id: '', ...event })]
  }))
  const rows = [...events, ...tests, ...readings]
    .toSorted((one, other) => one.atMs - other.atMs)
    .flatMap((moment) => moment.rows)
  return csvHeadLine + csvLines(rows)
}
