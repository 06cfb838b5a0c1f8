import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { demoFiles } from '../../demo-data/demo-files.ts'
import { readCsv } from '../../services/contract/csv-read.ts'
import { newEvent } from '../../services/contract/event-entry.ts'
import { tankProfile } from '../../services/contract/tank-profile.ts'
import { newTest } from '../../services/contract/test-entry.ts'
import { demoDayZeroMs, demoLive, demoPast } from '../../services/rehearsal/demo-scenario.ts'
import { demoSeed } from '../../services/rehearsal/demo-tank.ts'
import { sheetOf } from '../../services/tank/species.ts'
import { dayMs } from './a-tank.ts'

const nowMs = Date.UTC(2026, 10, 25, 14)
const seeds = [demoSeed, 'another', '3']
const pastOf = new Map(seeds.map((seed) => [seed, demoPast({ nowMs, seed })]))
const past = (seed: string) => pastOf.get(seed) ?? demoPast({ nowMs, seed })
const dayZeroMs = demoDayZeroMs({ nowMs })
const dayOf = (atMs: number): number => (atMs - dayZeroMs) / dayMs

const course = (seed: string, quantity: string): { day: number; value: number }[] =>
  past(seed).tests.flatMap((one) =>
    one.results
      .filter((result) => result.quantity === quantity)
      .map((result) => ({ day: dayOf(one.takenAtMs), value: result.value }))
  )
const fishDayOf = (seed: string): number =>
  dayOf(past(seed).events.find((event) => event.kind === 'fish-added')?.atMs ?? Number.NaN)
const between = (points: { day: number; value: number }[], from: number, to: number): number[] =>
  points.filter(({ day }) => day >= from && day <= to).map(({ value }) => value)

test.each(seeds)(
  'with seed %s the filter ripens as filters do: ammonia first, then nitrite, then nothing',
  (seed) => {
    const ammonia = course(seed, 'ammonia')
    const nitrite = course(seed, 'nitrite')
    expect(Math.max(...between(ammonia, 0.4, 2))).toBeGreaterThanOrEqual(2)
    const peak = Math.max(...nitrite.map(({ value }) => value))
    const peakDay = nitrite.find(({ value }) => value === peak)?.day ?? 0
    expect(peak).toBeGreaterThanOrEqual(4)
    expect(peakDay).toBeGreaterThan(3)
    expect(peakDay).toBeLessThan(12)
    // Two doses in a row gone within a day, before any fish: zero on both, twice.
    expect(between(nitrite, 14, fishDayOf(seed))).toEqual([0, 0, 0, 0])
    expect(between(ammonia, 14, fishDayOf(seed))).toEqual([0, 0, 0, 0])
  }
)

test.each(seeds)(
  'with seed %s fish come on day 17 after a water change, and a heavy meal leaves a trace',
  (seed) => {
    const { events } = past(seed)
    expect(Math.floor(fishDayOf(seed))).toBe(17)
    const changed = events.filter((event) => event.kind === 'water-changed')
    expect(changed.map((event) => event.data?.fraction)).toEqual([0.3])
    expect(dayOf(changed[0]?.atMs ?? 0)).toBeLessThan(fishDayOf(seed))
    const since = between(course(seed, 'ammonia'), fishDayOf(seed), 99)
    expect(Math.max(...since)).toBeGreaterThan(0)
    expect(Math.max(...since)).toBeLessThanOrEqual(0.2)
    expect(since.at(-1)).toBe(0)
  }
)

test('the fish are species of the house whose bands hold the tank, in a group they need', () => {
  const { events, profile, readings } = past(demoSeed)
  const added = events.filter((event) => event.kind === 'fish-added')
  expect(added.map((event) => event.data?.speciesId)).toEqual(['puntius-titteya'])
  expect(profile.species).toBeUndefined()
  const barbs = sheetOf('puntius-titteya')
  const coming = sheetOf('corydoras-aeneus')
  if (barbs === null || coming === null) throw new Error('a species of the story has no sheet')
  expect(added[0]?.data?.count).toBeGreaterThanOrEqual(barbs.groupOf)
  const since = readings.filter((one) => dayOf(one.atMs) > 17)
  const span = (quantity: string, from = since): [number, number] =>
    from
      .filter((one) => one.quantity === quantity)
      .reduce<[number, number]>(
        ([low, high], { value }) => [Math.min(low, value), Math.max(high, value)],
        [99, -99]
      )
  const [coldest, warmest] = span('temperature')
  expect(coldest).toBeGreaterThan(Math.max(barbs.tempC.low, coming.tempC.low))
  expect(warmest).toBeLessThan(Math.min(barbs.tempC.high, coming.tempC.high))
  const [sourest, highest] = span('ph')
  expect(sourest).toBeGreaterThan(barbs.pH.low)
  expect(highest).toBeLessThan(barbs.pH.high)
  const [coldestEver, warmestEver] = span('temperature', [...readings])
  expect(coldestEver).toBeGreaterThan(23)
  expect(warmestEver).toBeLessThan(25.5)
})

test('three weeks stand in the record without a gap, up to now', () => {
  const { readings } = past(demoSeed)
  for (const probe of ['t1', 'p1']) {
    const times = readings.filter((one) => one.probe === probe).map((one) => one.atMs)
    const gaps = times.slice(1).map((atMs, index) => atMs - (times[index] ?? 0))
    expect(new Set(gaps)).toEqual(new Set([60_000]))
    expect((times[0] ?? 0) - dayZeroMs).toBeLessThanOrEqual(60_000)
    expect(nowMs - (times.at(-1) ?? 0)).toBeLessThanOrEqual(60_000)
  }
  expect(dayOf(nowMs)).toBeGreaterThanOrEqual(21)
})

test('no entry lies in the future, and each would pass the front door', () => {
  const { profile, tests, events } = past(demoSeed)
  expect(tankProfile.safeParse(profile).error).toBeUndefined()
  for (const { takenAtMs, ...rest } of tests) {
    expect(takenAtMs).toBeLessThanOrEqual(nowMs)
    expect(newTest.safeParse({ takenAt: takenAtMs, ...rest }).error).toBeUndefined()
  }
  for (const event of events) {
    expect(event.atMs).toBeLessThanOrEqual(nowMs)
    expect(newEvent.safeParse(event).error).toBeUndefined()
  }
})

test('the same seed and time tell the same past; another seed tells another', () => {
  expect(demoPast({ nowMs, seed: demoSeed })).toEqual(past(demoSeed))
  expect(past('another').readings).not.toEqual(past(demoSeed).readings)
})

test('the live tank goes on where the past ends, and feels what the keeper enters', () => {
  const live = demoLive({ nowMs, seed: demoSeed })
  const last = past(demoSeed).readings.findLast((one) => one.probe === 't1')?.value ?? 0
  const now = live.readingsAt(nowMs + 5000)
  expect(now.map((one) => [one.probe, one.quantity, one.atMs])).toEqual([
    ['t1', 'temperature', nowMs + 5000],
    ['p1', 'ph', nowMs + 5000]
  ])
  expect(Math.abs((now[0]?.value ?? 0) - last)).toBeLessThanOrEqual(0.125)
  const before = live.state()
  live.enter({ kind: 'water-changed', data: { fraction: 0.5, tapTempC: 15 } })
  live.readingsAt(nowMs + 30 * 60_000)
  expect(live.state().tempC).toBeLessThan(before.tempC - 4)
  expect(live.state().nitrateMgLAsN).toBeLessThan(before.nitrateMgLAsN)
})

test('the committed files are those that the generator makes, and they read without a fault', () => {
  for (const [name, text] of demoFiles()) {
    expect(readFileSync(new URL(`../../demo-data/${name}`, import.meta.url), 'utf8') === text, name).toBe(
      true
    )
    expect(text.length).toBeLessThan(1_500_000)
    if (!name.endsWith('.csv')) continue
    const read = readCsv(text)
    expect('faults' in read && read.faults).toEqual([])
    expect('rows' in read && read.rows.length > 3000).toBe(true)
  }
})

test('in the cold night the water leaves the band of the fish and keeps falling until morning', () => {
  const read = readCsv(demoFiles().get('kitchen-cold-night.csv') ?? '')
  if ('reason' in read) throw new Error(read.reason)
  const nightFromMs = Date.parse('2026-09-27T21:30:00+02:00')
  const morningMs = Date.parse('2026-09-28T09:10:00+02:00')
  const temperatures = read.rows.flatMap((row) =>
    row.kind === 'reading' && row.quantity === 'temperature' ? [row] : []
  )
  const at = (atMs: number): number => temperatures.findLast((row) => row.atMs <= atMs)?.value ?? Number.NaN
  expect(at(nightFromMs)).toBeGreaterThan(24)
  expect(at(morningMs)).toBeLessThan(20)
  expect(at(morningMs)).toBeLessThan(at(morningMs - 3_600_000))
  expect(at(morningMs + 3_600_000)).toBeGreaterThan(at(morningMs))
})
