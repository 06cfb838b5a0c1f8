import { expect, test } from 'vitest'
import { kitchen, until } from '../wire/house-process.ts'
import { storyFolder } from './story-folder.ts'
import { countOf, type StoryMachine, seriesOf, type TimedHouse } from './timed-house.ts'

const minute = 60_000
const hour = 60 * minute
const folder = storyFolder()

type Now = {
  atMs: number
  readings: Record<string, { value: number; atMs: number; ageMs: number; stale: boolean } | undefined>
  watchOff: { fromMs: number; toMs: number } | null
}
const nowOf = async (open: TimedHouse) => (await open.ask('GET', '/api/tanks/kitchen/now')).body as Now
type Change = { kind: string; state: string }
const alarmsOf = async (open: TimedHouse) =>
  ((await open.ask('GET', '/api/alarms?tank=kitchen')).body as Change[]).map(({ kind }) => kind)
const fish = [{ id: 'puntius-titteya', count: 6 }]

/** 25 November 2026, 00:52 in Vienna. */
const evening = Date.UTC(2026, 10, 24, 23, 52)
const machineAt = (wallMs: number, change: Partial<StoryMachine> = {}): StoryMachine => ({
  wallMs,
  monotonicMs: 100 * hour,
  bootId: 'first',
  isSynchronised: false,
  builtAtMs: Date.UTC(2026, 9, 1),
  ...change
})
const open = (machine: StoryMachine): Promise<TimedHouse> =>
  folder.open({ clock: () => machine.wallMs, machine })
function passTime(machine: StoryMachine, ms: number): void {
  machine.wallMs += ms
  machine.monotonicMs += ms
}

/** One reading a minute without a time of its own, as a small board sends it. */
async function live(
  open_: TimedHouse,
  machine: StoryMachine,
  minutes: number,
  value: (index: number) => number
) {
  for (let index = 0; index < minutes; index++) {
    passTime(machine, minute)
    await open_.publish('shoal/kitchen/t1/temperature', String(value(index)))
    await open_.tick()
  }
}
const steady = (index: number): number => 24 + (index % 5) / 16

/** Twenty quiet minutes before the power goes at 01:12. */
async function quietEvening(): Promise<number> {
  const machine = machineAt(evening)
  const open_ = await open(machine)
  expect((await open_.ask('POST', '/api/tanks', { ...kitchen, species: fish })).status).toBe(201)
  await live(open_, machine, 20, steady)
  expect(await nowOf(open_)).toMatchObject({ watchOff: null })
  await open_.close()
  return machine.wallMs
}

test('after a power cut the wall can say from when to when the watch was off, for a day, also after another restart', async () => {
  const cutMs = await quietEvening()
  const backMs = cutMs + 5 * hour + 28 * minute
  const machine = machineAt(backMs, { bootId: 'second', monotonicMs: 90_000 })
  let open_ = await open(machine)
  await live(open_, machine, 10, steady)
  // From the last whole minute that was judged to the first that was judged again.
  const off = { fromMs: cutMs, toMs: backMs + minute }
  expect((await nowOf(open_)).watchOff).toEqual(off)
  expect(await alarmsOf(open_)).toEqual([])
  await open_.close()
  passTime(machine, 30_000)
  open_ = await open(machine)
  await live(open_, machine, 3, steady)
  expect((await nowOf(open_)).watchOff).toEqual(off)
  // A day of life, a tick an hour would be a gap of its own: so the minutes go on.
  passTime(machine, 24 * hour)
  expect((await nowOf(open_)).watchOff).toBeNull()
}, 120_000)

test('a machine that wakes with the time of yesterday keeps what comes, judges it, and stamps it once it is told the time', async () => {
  const cutMs = await quietEvening()
  const backMs = cutMs + 5 * hour + 28 * minute
  const machine = machineAt(cutMs - 20 * hour, { bootId: 'second', monotonicMs: 90_000 })
  const open_ = await open(machine)
  await live(open_, machine, 8, (index) => 23.5 + index / 16)
  // A board that knows the time is right, and our machine is wrong: its reading must not be marked.
  await open_.publish('shoal/kitchen/p1/ph', { value: 7.1, time: (backMs + 8 * minute) / 1000 }, 'other')

  const early = await nowOf(open_)
  // The house counts on from what it knows, so the age is right although the time is not.
  expect(early.atMs).toBeGreaterThanOrEqual(cutMs)
  expect(early.readings.temperature).toMatchObject({ value: 23.5 + 7 / 16, stale: false })
  expect(early.readings.temperature?.ageMs).toBeLessThan(minute)
  // Nothing under a guessed time stands in the record.
  expect(countOf(await seriesOf(open_.ask, 'temperature', { fromMs: 0, toMs: cutMs + 50 * hour }))).toBe(20)

  machine.wallMs = backMs + 8 * minute
  await open_.tick()
  const span = { fromMs: cutMs + minute, toMs: backMs + hour }
  await until(async () => countOf(await seriesOf(open_.ask, 'temperature', span)) === 8, {
    withinMs: 10_000,
    what: 'the parked readings to be stamped'
  })
  const points = (await seriesOf(open_.ask, 'temperature', span)).filter(({ count }) => count > 0)
  expect(points.map(({ atMs }) => Math.round((atMs - backMs) / minute))).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
  expect(points.map(({ mean }) => mean)).toEqual(Array.from({ length: 8 }, (_, index) => 23.5 + index / 16))
  await live(open_, machine, 5, steady)
  const late = await nowOf(open_)
  expect(late.atMs).toBe(backMs + 13 * minute)
  expect(late.readings).toMatchObject({
    temperature: { value: steady(4), ageMs: 0, stale: false },
    ph: { value: 7.1, atMs: backMs + 8 * minute }
  })
  const { clocks } = (await open_.ask('GET', '/api/refused')).body as { clocks: unknown[] }
  expect(clocks).toEqual([])
  expect(late.watchOff?.fromMs).toBe(cutMs)
  expect(Math.abs((late.watchOff?.toMs ?? 0) - (backMs + minute))).toBeLessThanOrEqual(minute)
  expect(await alarmsOf(open_)).toEqual([])
}, 120_000)

test('stopped before it knew the time, the watch stamps what it had kept in the next run of the program', async () => {
  const cutMs = await quietEvening()
  const machine = machineAt(cutMs - 20 * hour, { bootId: 'second', monotonicMs: 90_000 })
  let open_ = await open(machine)
  await live(open_, machine, 4, steady)
  await open_.close()
  const backMs = cutMs + 6 * hour
  passTime(machine, 10 * minute)
  machine.wallMs = backMs
  open_ = await open(machine)
  const span = { fromMs: cutMs + minute, toMs: backMs + hour }
  await until(async () => countOf(await seriesOf(open_.ask, 'temperature', span)) === 4, {
    withinMs: 10_000,
    what: 'the readings of the run before'
  })
  const points = (await seriesOf(open_.ask, 'temperature', span)).filter(({ count }) => count > 0)
  expect(points.map(({ atMs }) => Math.round((atMs - backMs) / minute))).toEqual([-13, -12, -11, -10])
}, 120_000)

test('cold water rings although nobody knows what time it is', async () => {
  const cutMs = await quietEvening()
  const machine = machineAt(cutMs - 20 * hour, { bootId: 'second', monotonicMs: 90_000 })
  const open_ = await open(machine)
  await live(open_, machine, 50, (index) => 18 + (index % 3) / 16)
  expect(await alarmsOf(open_)).toContain('water-cold-danger')
}, 120_000)

test('where nobody ever tells the time, the house goes on after an hour with what it counted, and loses nothing', async () => {
  const cutMs = await quietEvening()
  const machine = machineAt(cutMs - 20 * hour, { bootId: 'second', monotonicMs: 90_000 })
  const open_ = await open(machine)
  await live(open_, machine, 70, steady)
  await until(
    async () =>
      countOf(await seriesOf(open_.ask, 'temperature', { fromMs: cutMs + 1000, toMs: cutMs + 5 * hour })) ===
      70,
    { withinMs: 10_000, what: 'all seventy readings' }
  )
  expect((await nowOf(open_)).readings.temperature).toMatchObject({ ageMs: 0, stale: false })
}, 120_000)
