import type { EventData, EventKind, TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import { demoStory, filledDay, filledTime, type StoryMoment, todayIs } from './demo-story.ts'
import { demoDescription, demoProfile, demoTankId } from './demo-tank.ts'
import { type Dice, makeDice } from './dice.ts'
import { type Happening, happeningOf, type TimedHappening } from './happening.ts'
import { readKit } from './kit.ts'
import type { TankState, VirtualReading } from './tank-state.ts'
import { makeVirtualTank, type VirtualTank } from './virtual-tank.ts'

export type DemoAsk = Readonly<{
  nowMs: number
  seed: number | string
  /** Distance of two readings of one probe; a minute unless given. */
  everyMs?: number
  /** Where the kitchen is; Vienna in winter unless given. */
  zone?: Readonly<{ timeZone: string; utcOffsetMinutes: number }>
  /** A colder or warmer kitchen than the usual 18.5 °C. */
  roomMeanC?: number
  /** From then on nobody tests, feeds or writes anything down. */
  storyEndsMs?: number
  /** Faults and other things that the story does not know. */
  besides?: readonly TimedHappening[]
}>

/** Three weeks and a bit of a tank's life, as a keeper and two boards would have recorded it. */
export type DemoPast = Readonly<{
  tankId: string
  profile: TankProfile
  readings: readonly VirtualReading[]
  tests: readonly Omit<ManualTest, 'id'>[]
  events: readonly Omit<TankEvent, 'id'>[]
}>

/** The same tank from now on. */
export type DemoLive = Readonly<{
  tankId: string
  /** What every probe says at this moment; later asks must not name earlier times. */
  readingsAt(atMs: number): readonly VirtualReading[]
  /** What a keeper enters reaches the water: a change, a meal, fish. Other entries do nothing to it. */
  enter(entry: Readonly<{ kind: EventKind; data?: EventData | undefined }>): void
  happen(happening: Happening): void
  state(): TankState
}>

const msPerDay = 86_400_000
const vienna = { timeZone: 'Europe/Vienna', utcOffsetMinutes: 60 }

/** The recorded past of the demo tank up to now: the same seed and hour give the same past. */
export const demoPast = (ask: DemoAsk): DemoPast => livePast(ask).past

/** Lives through the past once more and goes on from there. */
export function demoLive(ask: DemoAsk): DemoLive {
  const { tank, dayZeroMs } = livePast(ask)
  tank.plan(quietMeals(dayZeroMs))
  const { volumeL } = demoDescription(settingsOf(ask))
  return {
    tankId: demoTankId,
    readingsAt(atMs) {
      tank.advance(atMs)
      return tank.sense().map((reading) => ({ ...reading, atMs }))
    },
    enter(entry) {
      const happening = happeningOf(entry, { volumeL })
      if (happening !== null) tank.happen(happening)
    },
    happen: (happening) => tank.happen(happening),
    state: () => tank.state()
  }
}

/** Local midnight of the first day of the story. */
export const demoDayZeroMs = (ask: Pick<DemoAsk, 'nowMs' | 'zone'>): number => {
  const offsetMs = (ask.zone ?? vienna).utcOffsetMinutes * 60_000
  return Math.floor((ask.nowMs + offsetMs) / msPerDay) * msPerDay - offsetMs - todayIs * msPerDay
}

const settingsOf = (
  ask: DemoAsk
): Readonly<{ everyMs: number; utcOffsetMinutes: number; roomMeanC?: number }> => ({
  everyMs: ask.everyMs ?? 60_000,
  utcOffsetMinutes: (ask.zone ?? vienna).utcOffsetMinutes,
  ...(ask.roomMeanC === undefined ? {} : { roomMeanC: ask.roomMeanC })
})

type Lived = Readonly<{ past: DemoPast; tank: VirtualTank; dayZeroMs: number }>

function livePast(ask: DemoAsk): Lived {
  const dayZeroMs = demoDayZeroMs(ask)
  const momentMs = (moment: Pick<StoryMoment, 'day' | 'time'>): number => {
    const [hours = '0', minutes = '0'] = moment.time.split(':')
    return dayZeroMs + moment.day * msPerDay + (Number(hours) * 60 + Number(minutes)) * 60_000
  }
  const description = demoDescription(settingsOf(ask))
  const tank = makeVirtualTank({ seed: ask.seed, description, startAtMs: dayZeroMs })
  tank.plan(ask.besides ?? [])
  const filledAtMs = momentMs({ day: filledDay, time: filledTime })
  const profile = demoProfile({
    filledAtMs,
    seededAtMs: filledAtMs,
    timeZone: (ask.zone ?? vienna).timeZone
  })
  const eye = makeDice(ask.seed).fork('eye')
  const readings: VirtualReading[] = []
  const tests: Omit<ManualTest, 'id'>[] = []
  const events: Omit<TankEvent, 'id'>[] = []
  for (const moment of demoStory) {
    const atMs = momentMs(moment)
    if (atMs > Math.min(ask.nowMs, ask.storyEndsMs ?? ask.nowMs)) break
    for (const reading of tank.advance(atMs)) readings.push(reading)
    const test = testOf(moment, atMs, { tank, profile, eye })
    if (test !== null) tests.push(test)
    if (moment.event === undefined) continue
    events.push({ atMs, ...moment.event })
    const happening = moment.happening ?? happeningOf(moment.event, { volumeL: description.volumeL })
    if (happening !== null) tank.happen(happening)
  }
  for (const reading of tank.advance(ask.nowMs)) readings.push(reading)
  return { past: { tankId: demoTankId, profile, readings, tests, events }, tank, dayZeroMs }
}

function testOf(
  moment: StoryMoment,
  takenAtMs: number,
  from: Readonly<{ tank: VirtualTank; profile: TankProfile; eye: Dice }>
): Omit<ManualTest, 'id'> | null {
  if (moment.test === undefined) return null
  const results = readKit({
    state: from.tank.state(),
    kit: from.profile.kit,
    quantities: moment.test,
    dice: from.eye.fork(`${moment.day} ${moment.time}`)
  })
  return { takenAtMs, results, ...(moment.testNote === undefined ? {} : { note: moment.testNote }) }
}

/** Whoever leaves the demo running for weeks finds the fish fed. */
function quietMeals(dayZeroMs: number): readonly TimedHappening[] {
  return Array.from({ length: 90 }, (_, index) => ({
    atMs: dayZeroMs + (todayIs + 1 + index) * msPerDay + 8 * 3_600_000,
    happening: { kind: 'fed', grams: 0.08 }
  }))
}
