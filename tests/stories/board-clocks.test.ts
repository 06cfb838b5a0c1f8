import { expect, test } from 'vitest'
import { kitchen, until } from '../wire/house-process.ts'
import { storyFolder } from './story-folder.ts'
import { countOf, seriesOf, type TimedHouse } from './timed-house.ts'

const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const folder = storyFolder()

type Now = {
  readings: Record<string, { value: number; ageMs: number; stale: boolean; probe: string } | undefined>
}
type Alarm = { kind: string; state: string }
const nowOf = async (open: TimedHouse) => (await open.ask('GET', '/api/tanks/kitchen/now')).body as Now
const alarmsOf = async (open: TimedHouse) =>
  ((await open.ask('GET', '/api/alarms?tank=kitchen')).body as Alarm[]).map(({ kind }) => kind)
const clocksOf = async (open: TimedHouse) =>
  Object.fromEntries(
    ((await open.ask('GET', '/api/refused')).body as { clocks: { probe: string; why: string }[] }).clocks.map(
      ({ probe, why }) => [probe, why]
    )
  )
const conflictsOf = async (open: TimedHouse) =>
  Object.fromEntries(
    (
      (await open.ask('GET', '/api/probes?tank=kitchen')).body as {
        name: string
        quantities: { conflicts: number }[]
      }[]
    ).map(({ name, quantities }) => [name, quantities.reduce((sum, { conflicts }) => sum + conflicts, 0)])
  )
const fish = [{ id: 'puntius-titteya', count: 6 }]

async function open(nowMs: { at: number }): Promise<TimedHouse> {
  const house = await folder.open({ clock: () => nowMs.at })
  const made = await house.ask('POST', '/api/tanks', { ...kitchen, species: fish })
  expect(made.status).toBe(201)
  return house
}

/** What each board's clock says, in Unix seconds, when it is truly this time. */
const clocks: Readonly<Record<string, (trueMs: number, startMs: number, index: number) => number | null>> = {
  right: (trueMs) => trueMs,
  none: () => null,
  year1970: (trueMs, startMs) => trueMs - startMs,
  ahead: (trueMs) => trueMs + 3 * day,
  // Local time of New York, sent as if it were universal time.
  'new-york': (trueMs) => trueMs - 5 * hour,
  stuck: (_trueMs, startMs) => startMs,
  // Falls back by two hours after half an hour, and finds its way again after another.
  jumps: (trueMs, _startMs, index) => (index >= 30 && index < 60 ? trueMs - 2 * hour : trueMs)
}

test('whatever a board’s clock says, no reading is lost, the present is the present, and nothing rings', async () => {
  const startMs = Date.UTC(2026, 10, 25, 12)
  const nowMs = { at: startMs }
  const open_ = await open(nowMs)
  const minutes = 90
  for (let index = 0; index < minutes; index++) {
    nowMs.at += minute
    await Promise.all(
      Object.entries(clocks).map(([probe, clock]) => {
        const saidMs = clock(nowMs.at, startMs, index)
        const value = Number((24 + (index % 7) / 16).toFixed(4))
        return open_.publish(
          `shoal/kitchen/${probe}/temperature`,
          saidMs === null ? value : { value, time: saidMs / 1000 },
          probe
        )
      })
    )
    await open_.tick()
  }
  const span = { fromMs: startMs - 10 * day, toMs: nowMs.at + 10 * day }
  // Two differing values under one time: the second is kept beside the first, the third proves that the clock stands.
  const conflicts = await conflictsOf(open_)
  expect(conflicts).toEqual({
    ...Object.fromEntries(Object.keys(clocks).map((probe) => [probe, 0])),
    stuck: 1
  })
  for (const probe of Object.keys(clocks)) {
    const points = await seriesOf(open_.ask, 'temperature', { ...span, probe })
    expect(countOf(points) + (conflicts[probe] ?? 0), probe).toBe(minutes)
    // None of it in the future, whatever the board said.
    expect(Math.max(...points.map(({ atMs }) => atMs)), probe).toBeLessThanOrEqual(nowMs.at)
  }
  // A clock that is five hours behind shows in its first readings; from then on time is that of arrival.
  const late = await seriesOf(open_.ask, 'temperature', {
    fromMs: startMs,
    toMs: nowMs.at,
    probe: 'new-york'
  })
  expect(countOf(late)).toBeGreaterThanOrEqual(minutes - 3)

  expect(await clocksOf(open_)).toEqual({
    year1970: 'out-of-range',
    ahead: 'out-of-range',
    'new-york': 'runs-behind',
    stuck: 'stands-still',
    jumps: 'runs-behind'
  })
  const { readings } = await nowOf(open_)
  expect(readings.temperature).toMatchObject({ ageMs: 0, stale: false })
  expect(await alarmsOf(open_)).toEqual([])
}, 120_000)

test('a single board whose clock is five hours behind is still watched: cold water rings', async () => {
  const nowMs = { at: Date.UTC(2026, 10, 25, 12) }
  const open_ = await open(nowMs)
  for (let index = 0; index < 90; index++) {
    nowMs.at += minute
    const value = Number((20 + (index % 3) / 16).toFixed(4))
    await open_.publish('shoal/kitchen/t1/temperature', { value, time: (nowMs.at - 5 * hour) / 1000 })
    await open_.tick()
  }
  expect((await nowOf(open_)).readings.temperature).toMatchObject({ stale: false })
  expect(await alarmsOf(open_)).toContain('water-cold')
}, 120_000)

test('thirty days that a board kept while the watch was away come in shuffled and doubled: all of it once, and no old water rings', async () => {
  const nowMs = { at: Date.UTC(2026, 10, 25, 12) }
  const early = await open(nowMs)
  for (let index = 0; index < 10; index++) {
    nowMs.at += minute
    await early.publish('shoal/kitchen/t1/temperature', { value: 24.5 + index / 16, time: nowMs.at / 1000 })
    await early.tick()
  }
  nowMs.at += 30 * day
  const open_ = { ...early, ask: await early.login() }
  await open_.tick()
  const awayMs = nowMs.at - 30 * day
  // One reading in ten minutes; a week of it was far too cold, which is history now and nobody's emergency.
  const kept = Array.from({ length: 30 * 144 - 1 }, (_, index) => ({
    value: index > 1000 && index < 2000 ? 15 + (index % 5) / 16 : 24 + (index % 5) / 16,
    time: (awayMs + (index + 1) * 10 * minute) / 1000
  }))
  const shuffled = kept.map((reading, index) => ({ reading, place: (index * 7919) % kept.length }))
  const inDisorder = shuffled.sort((a, b) => a.place - b.place).map(({ reading }) => reading)
  for (let from = 0; from < inDisorder.length; from += 200)
    await Promise.all(
      [...inDisorder.slice(from, from + 200), ...inDisorder.slice(from, from + 20)].map((reading) =>
        open_.publish('shoal/kitchen/t1/temperature', reading)
      )
    )
  for (let index = 0; index < 5; index++) {
    nowMs.at += minute
    await open_.publish('shoal/kitchen/t1/temperature', { value: 24.5 + index / 16, time: nowMs.at / 1000 })
    await open_.tick()
  }
  const points = await seriesOf(open_.ask, 'temperature', { fromMs: awayMs - hour, toMs: nowMs.at })
  expect(countOf(points)).toBe(10 + kept.length + 5)
  expect(Math.min(...points.map(({ min }) => min ?? Number.POSITIVE_INFINITY))).toBe(15)
  expect((await nowOf(open_)).readings.temperature).toMatchObject({ value: 24.75, ageMs: 0, stale: false })
  // Nobody tested the water for a month, which is true and is said; nothing else is.
  expect((await alarmsOf(open_)).filter((kind) => kind !== 'test-overdue')).toEqual([])
  expect(await clocksOf(open_)).toEqual({})
}, 120_000)

test('the night on which the clocks go back has twenty-five hours, and each of their minutes is there', async () => {
  // Directive 2000/84/EC: summer time ends at 01:00 UTC on the last Sunday of October, in 2026 the 25th.
  const startMs = Date.UTC(2026, 9, 25, 0, 0)
  const nowMs = { at: startMs }
  const open_ = await open(nowMs)
  const local = (ms: number): string => {
    const offsetH = ms < Date.UTC(2026, 9, 25, 1) ? 2 : 1
    return `${new Date(ms + offsetH * hour).toISOString().slice(0, 23)}+0${offsetH}:00`
  }
  expect([local(startMs + 30 * minute), local(startMs + 90 * minute)]).toEqual([
    '2026-10-25T02:30:00.000+02:00',
    '2026-10-25T02:30:00.000+01:00'
  ])
  for (let index = 0; index < 180; index++) {
    nowMs.at += minute
    const value = Number((24 + (index % 9) / 16).toFixed(4))
    await open_.publish('shoal/kitchen/t1/temperature', { value, time: local(nowMs.at) })
    await open_.publish('shoal/kitchen/t2/temperature', String(value), 'second')
    await open_.tick()
  }
  await until(
    async () =>
      countOf(await seriesOf(open_.ask, 'temperature', { fromMs: startMs, toMs: nowMs.at, probe: 't1' })) ===
      180,
    { withinMs: 10_000, what: 'three hours of minutes' }
  )
  const points = await seriesOf(open_.ask, 'temperature', { fromMs: startMs, toMs: nowMs.at, probe: 't1' })
  expect(points.every(({ count }) => count === 1)).toBe(true)
  expect((await nowOf(open_)).readings.temperature).toMatchObject({ ageMs: 0, stale: false })
  expect(await alarmsOf(open_)).toEqual([])
}, 120_000)
