import { makeDice } from './dice.ts'
import type { Happening, TimedHappening } from './happening.ts'
import type { HeaterHealth } from './heater.ts'
import { type OrdinaryLife, ordinaryLife, type Truth, waterChange, type Year } from './ordinary-life.ts'
import type { TankWish } from './ordinary-tank.ts'
import type { TankDescription } from './tank-description.ts'

/** Faults, and things that look like them. */
export const troubles = [
  'not-heating',
  'unplugged-after-change',
  'stuck-on',
  'weak-heater',
  'wandering-thermostat',
  'probe-silent',
  'all-silent',
  'hardness-used-up',
  'ammonia-by-rising-ph',
  'co2-first-day',
  'fishless-cycle',
  'told-change',
  'untold-change',
  'window',
  'cold-room',
  'hot-room',
  'sun',
  'filter-stopped',
  'probe-out-of-water'
] as const
export type Trouble = (typeof troubles)[number]

/** A quiet life up to one trouble, whose moment is known. */
export type TroubledLife = OrdinaryLife & Readonly<{ trouble: Trouble; onsetMs: number }>

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs
/** Quiet but for the weekly water changes. */
const quiet: Partial<Year> = {
  windows: 0,
  hotSpells: 0,
  coldSpells: 0,
  powerCuts: 0,
  heatersForgotten: 0,
  filterStops: 0
}
/** Hardness that nitrification takes: 0.400 dKH a mg of nitrogen in a litre. */
const dKhPerMgL = 0.4

/** Writes quiet weeks with one trouble near their end. `lastsDays` is how long it goes on being watched. */
export function troubledLife(
  given: Readonly<{
    seed: number | string
    trouble: Trouble
    startAtMs: number
    quietDays?: number
    lastsDays?: number
    wish?: TankWish
  }>
): TroubledLife {
  const { trouble, quietDays = 14, lastsDays = 2 } = given
  const dice = makeDice(given.seed)
  const withoutChanges = trouble === 'hardness-used-up' || trouble === 'fishless-cycle'
  const written = ordinaryLife({
    seed: `${given.seed} life`,
    startAtMs: given.startAtMs,
    days: quietDays + lastsDays,
    wish: { ...wishFor(trouble, (low, high) => dice.between(low, high)), ...given.wish },
    year: withoutChanges ? { ...quiet, waterChanges: 0 } : quiet
  })
  const description = describedFor(trouble, written.description, dice.between)
  const onsetMs = given.startAtMs + quietDays * dayMs + dice.whole(0, 1439) * minuteMs
  // A change of the ordinary weeks just before or after would tell two stories at once.
  const life = without({ ...written, description }, onsetMs - 8 * hourMs)
  const piece = pieceOf(trouble, {
    onsetMs,
    startAtMs: life.startAtMs,
    endsAtMs: life.endsAtMs,
    description,
    whole: dice.whole,
    between: dice.between
  })
  const change =
    trouble === 'told-change' || trouble === 'untold-change' || trouble === 'unplugged-after-change'
      ? waterChange(dice.fork('change'), {
          atMs: onsetMs,
          description,
          told: trouble === 'told-change',
          forgotten: trouble === 'unplugged-after-change'
        })
      : { happenings: [], truths: [] }
  const byTime = (one: Readonly<{ atMs: number }>, other: Readonly<{ atMs: number }>): number =>
    one.atMs - other.atMs
  return {
    ...life,
    happenings: [...life.happenings, ...piece, ...change.happenings, ...dosed(trouble, life)].toSorted(
      byTime
    ),
    told: [...life.told, ...(change.told ?? []), ...toldDoses(trouble, life)].toSorted(byTime),
    truths: [...life.truths, ...change.truths],
    trouble,
    onsetMs
  }
}

/** How a fishless cycle is fed, mg N/L: it stands at high ammonia and then at high nitrite for weeks. */
const cycleDoses = [
  { day: 0, mgL: 4 },
  { day: 6, mgL: 2 },
  { day: 11, mgL: 2 }
]
const dosesOf = (trouble: Trouble, life: OrdinaryLife): readonly Readonly<{ atMs: number; mgN: number }>[] =>
  trouble !== 'fishless-cycle'
    ? []
    : cycleDoses.map(({ day, mgL }) => ({
        atMs: life.startAtMs + day * dayMs + (day === 0 ? 0 : 18 * hourMs),
        mgN: mgL * life.description.volumeL
      }))
const dosed = (trouble: Trouble, life: OrdinaryLife): readonly TimedHappening[] =>
  dosesOf(trouble, life).map(({ atMs, mgN }) => ({
    atMs,
    happening: { kind: 'nitrogen-added', as: 'ammonium', mgN }
  }))
/** The same doses as the keeper weighs them: 3.819 mg of ammonium chloride a mg of nitrogen. */
const toldDoses = (trouble: Trouble, life: OrdinaryLife): OrdinaryLife['told'] =>
  dosesOf(trouble, life).map(({ atMs, mgN }) => ({
    atMs,
    kind: 'dosed',
    data: {
      substance: 'ammonium-chloride',
      amount: Number(((mgN * 3.819) / 1000).toFixed(2)),
      unit: 'g'
    }
  }))

type Roll = (low: number, high: number) => number

/** Some troubles only show where the tank allows it. */
function wishFor(trouble: Trouble, between: Roll): TankWish {
  if (trouble === 'window' || trouble === 'cold-room')
    return { roomMeanC: between(18, 22), sizing: between(2, 3) }
  if (trouble === 'hardness-used-up') return { khDKh: between(2.5, 5) }
  if (trouble === 'ammonia-by-rising-ph') return { khDKh: between(6, 10) }
  return {}
}

function describedFor(trouble: Trouble, tank: TankDescription, between: Roll): TankDescription {
  if (trouble === 'hardness-used-up')
    return {
      ...tank,
      nitrifiers: { ammoniaOxidisersMg: 6 * tank.volumeL, nitriteOxidisersMg: 2 * tank.volumeL }
    }
  if (trouble === 'ammonia-by-rising-ph')
    return {
      ...tank,
      plants: 'many',
      co2: { onHour: 0, offHour: 24, mmolLPerH: 0.25 },
      water: { ...tank.water, tanMgLAsN: 1.2, pH: 6.9 },
      nitrifiers: { ammoniaOxidisersMg: 0, nitriteOxidisersMg: 0 }
    }
  if (trouble === 'co2-first-day') return { ...tank, ...bottle(tank, between) }
  if (trouble === 'fishless-cycle')
    return {
      ...tank,
      fishG: 0,
      water: { ...tank.water, tanMgLAsN: 0, nitriteMgLAsN: 0 },
      nitrifiers: { ammoniaOxidisersMg: 0.02 * tank.volumeL, nitriteOxidisersMg: 1e-7 * tank.volumeL }
    }
  return tank
}

/** Gas for eight to twelve hours, begun up to four hours before the lights, towards 10 to 26 mg/L more than there was. */
function bottle(tank: TankDescription, between: Roll): Pick<TankDescription, 'co2' | 'gasPerH'> {
  const gasPerH = between(0.15, 0.5)
  const onHour = Math.floor(24 + tank.lights.onHour + between(-4, 3)) % 24
  const offHour = Math.floor(onHour + between(8, 13)) % 24
  return { gasPerH, co2: { onHour, offHour, mmolLPerH: gasPerH * between(0.23, 0.6) } }
}

const brokenHeater: Partial<Record<Trouble, HeaterHealth>> = {
  'not-heating': { kind: 'dead' },
  'stuck-on': { kind: 'stuck-on' },
  'weak-heater': { kind: 'weak', powerFrac: 0.45 },
  'wandering-thermostat': { kind: 'wandering', kPerDay: -0.4 }
}

function pieceOf(
  trouble: Trouble,
  given: Readonly<{
    onsetMs: number
    startAtMs: number
    endsAtMs: number
    description: TankDescription
    whole: Roll
    between: Roll
  }>
): readonly TimedHappening[] {
  const { onsetMs, description, whole, between } = given
  const now = (happening: Happening): readonly TimedHappening[] => [{ atMs: onsetMs, happening }]
  const health = brokenHeater[trouble]
  if (health !== undefined) return now({ kind: 'heater', health })
  if (trouble === 'probe-silent') return now({ kind: 'probe', name: 't1', fault: { kind: 'silent' } })
  if (trouble === 'all-silent')
    return description.probes.flatMap(({ name }) => now({ kind: 'probe', name, fault: { kind: 'silent' } }))
  if (trouble === 'window') return now({ kind: 'window', byK: -between(4, 10), minutes: whole(20, 150) })
  // As much as a heater of twice the power needed still holds: a room that stays 3 to 5 K cooler.
  if (trouble === 'cold-room') return now({ kind: 'weather', byK: -between(3, 5), hours: 24 })
  if (trouble === 'hot-room') return now({ kind: 'weather', byK: between(4, 9), hours: 24 })
  if (trouble === 'sun')
    return now({ kind: 'sun', watts: description.volumeL * between(0.3, 1), minutes: whole(60, 240) })
  if (trouble === 'filter-stopped')
    return pair(given, { kind: 'filter', on: false }, { kind: 'filter', on: true })
  if (trouble === 'probe-out-of-water') return pair(given, dry('out-of-water'), dry('none'))
  if (trouble === 'hardness-used-up') return steadyLoad(given, between(0.2, 1) / dKhPerMgL)
  if (trouble === 'co2-first-day')
    return [
      { atMs: given.startAtMs, happening: { kind: 'co2', on: false } },
      ...now({ kind: 'co2', on: true })
    ]
  if (trouble === 'ammonia-by-rising-ph') return now({ kind: 'co2', on: false })
  return []
}

const dry = (kind: 'out-of-water' | 'none'): Happening => ({ kind: 'probe', name: 't1', fault: { kind } })

const pair = (
  given: Readonly<{ onsetMs: number; whole: Roll }>,
  first: Happening,
  second: Happening
): readonly TimedHappening[] => [
  { atMs: given.onsetMs, happening: first },
  { atMs: given.onsetMs + given.whole(30, 360) * minuteMs, happening: second }
]

/** So much ammonia nitrogen a day that the hardness goes at a steady pace, in hourly sips. */
function steadyLoad(
  given: Readonly<{ onsetMs: number; endsAtMs: number; description: TankDescription }>,
  mgLPerDay: number
): readonly TimedHappening[] {
  const hours = Math.max(0, Math.floor((given.endsAtMs - given.onsetMs) / hourMs))
  return Array.from({ length: hours }, (_, hour) => ({
    atMs: given.onsetMs + hour * hourMs,
    happening: { kind: 'nitrogen-added', as: 'ammonium', mgN: (mgLPerDay * given.description.volumeL) / 24 }
  }))
}

/** A change is written down at most five minutes before it begins and half an hour after. */
const belongsTo = (atMs: number, truth: Truth): boolean =>
  atMs >= truth.fromMs - 5 * minuteMs && atMs <= truth.fromMs + 30 * minuteMs

/** Takes the ordinary water changes from some moment on out of a life. */
function without(life: OrdinaryLife, fromMs: number): OrdinaryLife {
  const late = (one: Truth): boolean => one.kind === 'water-change' && one.toMs > fromMs
  const gone = life.truths.filter(late)
  const inOne = (atMs: number): boolean =>
    gone.some((truth) => atMs >= truth.fromMs - 5 * minuteMs && atMs <= truth.toMs)
  return {
    ...life,
    truths: life.truths.filter((truth) => !late(truth)),
    happenings: life.happenings.filter(
      ({ atMs, happening }) =>
        !((happening.kind === 'water-changed' || happening.kind === 'probe') && inOne(atMs))
    ),
    told: life.told.filter((event) => !gone.some((truth) => truth.told && belongsTo(event.atMs, truth)))
  }
}
