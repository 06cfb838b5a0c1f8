import type { TankEvent } from '../tank/event.ts'
import { type Dice, makeDice } from './dice.ts'
import type { Happening, TimedHappening } from './happening.ts'
import { mealFracPerDay, ordinaryTank, type TankWish } from './ordinary-tank.ts'
import type { TankDescription } from './tank-description.ts'

/** What truly went on, for whoever compares it with what a watch made of it. */
export type Truth = Readonly<{
  kind:
    | 'water-change'
    | 'window'
    | 'hot-spell'
    | 'cold-spell'
    | 'power-cut'
    | 'heater-forgotten'
    | 'filter-stopped'
  fromMs: number
  toMs: number
  /** Whether the keeper wrote it down. */
  told: boolean
}>

/** A stretch of a tank's life: the tank, what happens to it, and the little of it that is written down. */
export type OrdinaryLife = Readonly<{
  description: TankDescription
  startAtMs: number
  endsAtMs: number
  happenings: readonly TimedHappening[]
  told: readonly Omit<TankEvent, 'id'>[]
  truths: readonly Truth[]
}>

/** How often each thing happens in a year of an ordinary tank. */
export const usualYear = {
  waterChanges: 52,
  toldFrac: 0.25,
  windows: 6,
  hotSpells: 6,
  coldSpells: 2,
  powerCuts: 2,
  heatersForgotten: 2,
  filterStops: 6
} as const
export type Year = Readonly<Record<keyof typeof usualYear, number>>

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs

type Piece = Readonly<{
  happenings: readonly TimedHappening[]
  told?: readonly Omit<TankEvent, 'id'>[]
  truths: readonly Truth[]
}>

/** Writes the life of one tank for some days, a year unless given. The same seed writes the same life. */
export function ordinaryLife(
  given: Readonly<{
    seed: number | string
    startAtMs: number
    days?: number
    wish?: TankWish
    year?: Partial<Year>
  }>
): OrdinaryLife {
  const { startAtMs, days = 365 } = given
  const dice = makeDice(given.seed)
  const description = ordinaryTank(dice.fork('tank'), given.wish)
  const year = { ...usualYear, ...given.year }
  const often = (what: keyof Year): number =>
    howMany(dice.fork(`how many ${what}`), (year[what] * days) / 365)
  const spread = (what: keyof Year, hours: readonly [number, number]): readonly number[] =>
    spreadOut(dice.fork(`when ${what}`), { count: often(what), startAtMs, days, hours })

  const changes = spread('waterChanges', [9, 20])
  const told = chosen(dice.fork('told'), changes, Math.round(changes.length * year.toldFrac))
  const forgotten = chosen(dice.fork('forgotten'), changes, often('heatersForgotten'))
  const pieces: readonly Piece[] = [
    upkeep(description, startAtMs, days),
    ...changes.map((atMs) =>
      waterChange(dice.fork(`change ${atMs}`), {
        atMs,
        description,
        told: told.has(atMs),
        forgotten: forgotten.has(atMs)
      })
    ),
    ...spread('windows', [7, 20]).map((atMs) => window(dice.fork(`window ${atMs}`), atMs)),
    ...spread('hotSpells', [9, 12]).map((atMs) => spell(dice.fork(`hot ${atMs}`), atMs, 'hot-spell')),
    ...spread('coldSpells', [0, 23]).map((atMs) => spell(dice.fork(`cold ${atMs}`), atMs, 'cold-spell')),
    ...spread('powerCuts', [0, 23]).map((atMs) => stopped(dice.fork(`cut ${atMs}`), atMs, 'power-cut')),
    ...spread('filterStops', [8, 21]).map((atMs) =>
      stopped(dice.fork(`stop ${atMs}`), atMs, 'filter-stopped')
    )
  ]
  return {
    description,
    startAtMs,
    endsAtMs: startAtMs + days * dayMs,
    happenings: pieces.flatMap((piece) => piece.happenings).toSorted((one, other) => one.atMs - other.atMs),
    told: pieces.flatMap((piece) => piece.told ?? []).toSorted((one, other) => one.atMs - other.atMs),
    truths: pieces.flatMap((piece) => piece.truths).toSorted((one, other) => one.fromMs - other.fromMs)
  }
}

/** A water change, cold, warm or just right, and sometimes the plug that is not put back afterwards. */
export function waterChange(
  dice: Dice,
  given: Readonly<{ atMs: number; description: TankDescription; told: boolean; forgotten: boolean }>
): Piece {
  const { atMs, description, told } = given
  const fraction = Math.round(dice.between(15, 50)) / 100
  const colderK = dice.chance(0.2) ? dice.between(8, 13) : dice.between(-0.5, 6)
  const tempC = Math.max(8, description.heater.setpointC - colderK)
  const drainMinutes = dice.whole(4, 15)
  const fillMinutes = dice.whole(4, 15)
  const doneMs = atMs + (drainMinutes + fillMinutes + 1) * minuteMs
  const foundMs = doneMs + Math.round(dice.between(6, 30) * 60) * minuteMs
  const happenings: TimedHappening[] = [
    {
      atMs,
      happening: { kind: 'water-changed', fraction, water: { tempC }, drainMinutes, fillMinutes }
    }
  ]
  const truths: Truth[] = [{ kind: 'water-change', fromMs: atMs, toMs: doneMs, told }]
  // Now and then the probe hangs in the air while the water is low.
  if (dice.chance(0.15))
    happenings.push(
      { atMs: atMs + Math.floor(drainMinutes / 2) * minuteMs, happening: dryProbe('out-of-water') },
      {
        atMs: atMs + (drainMinutes + Math.ceil(fillMinutes / 2)) * minuteMs,
        happening: dryProbe('none')
      }
    )
  if (given.forgotten) {
    happenings.push(
      { atMs, happening: { kind: 'heater', health: { kind: 'unplugged' } } },
      { atMs: foundMs, happening: { kind: 'heater', health: { kind: 'healthy' } } }
    )
    truths.push({ kind: 'heater-forgotten', fromMs: doneMs, toMs: foundMs, told: false })
  }
  if (!told) return { happenings, truths }
  // People write it down a little before or some time after.
  const writtenMs = atMs + dice.whole(-5, 30) * minuteMs
  return {
    happenings,
    truths,
    told: [{ atMs: writtenMs, kind: 'water-changed', data: { fraction, conditioner: true } }]
  }
}

const dryProbe = (kind: 'out-of-water' | 'none'): Happening => ({
  kind: 'probe',
  name: 't1',
  fault: { kind }
})

function window(dice: Dice, atMs: number): Piece {
  const minutes = dice.whole(15, 120)
  return {
    happenings: [{ atMs, happening: { kind: 'window', byK: -dice.between(4, 10), minutes } }],
    truths: [{ kind: 'window', fromMs: atMs, toMs: atMs + minutes * minuteMs, told: false }]
  }
}

function spell(dice: Dice, atMs: number, kind: 'hot-spell' | 'cold-spell'): Piece {
  const hours = dice.whole(8, 60)
  const byK = kind === 'hot-spell' ? dice.between(3, 9) : -dice.between(3, 6)
  return {
    happenings: [{ atMs, happening: { kind: 'weather', byK, hours } }],
    truths: [{ kind, fromMs: atMs, toMs: atMs + hours * hourMs, told: false }]
  }
}

function stopped(dice: Dice, atMs: number, kind: 'power-cut' | 'filter-stopped'): Piece {
  const toMs = atMs + dice.whole(20, kind === 'power-cut' ? 360 : 600) * minuteMs
  const set = (on: boolean): Happening => ({ kind: kind === 'power-cut' ? 'mains' : 'filter', on })
  return {
    happenings: [
      { atMs, happening: set(false) },
      { atMs: toMs, happening: set(true) }
    ],
    truths: [{ kind, fromMs: atMs, toMs, told: false }]
  }
}

/** Food morning and evening, and water put back for what went into the air. Nobody writes these down. */
function upkeep(description: TankDescription, startAtMs: number, days: number): Piece {
  const grams = (description.fishG * mealFracPerDay) / 2
  const everyDays = description.lid ? 7 : 2
  const happenings = Array.from({ length: days }, (_, day): TimedHappening[] => {
    const midnightMs = startAtMs + day * dayMs
    const meals: TimedHappening[] = [8, 18].map((hour) => ({
      atMs: midnightMs + hour * hourMs,
      happening: { kind: 'fed', grams }
    }))
    const filledUp: TimedHappening = { atMs: midnightMs + 19 * hourMs, happening: { kind: 'topped-up' } }
    return day % everyDays === everyDays - 1 ? [...meals, filledUp] : meals
  })
  return { happenings: happenings.flat(), truths: [] }
}

/** A whole number whose mean over many seeds is the given one. */
const howMany = (dice: Dice, mean: number): number => Math.floor(mean) + (dice.chance(mean % 1) ? 1 : 0)

/** Moments one to each equal stretch, so that the same thing never happens twice at once. */
function spreadOut(
  dice: Dice,
  given: Readonly<{ count: number; startAtMs: number; days: number; hours: readonly [number, number] }>
): readonly number[] {
  const stretchDays = given.days / Math.max(1, given.count)
  return Array.from({ length: given.count }, (_, index) => {
    const day = Math.floor(index * stretchDays + dice.unit() * Math.max(1, stretchDays - 4))
    const minute = dice.whole(given.hours[0] * 60, given.hours[1] * 60 + 59)
    return given.startAtMs + day * dayMs + minute * minuteMs
  })
}

/** Some of a list, each as likely as the other. */
function chosen(dice: Dice, from: readonly number[], count: number): ReadonlySet<number> {
  const left = [...from]
  const taken = new Set<number>()
  while (taken.size < count && left.length > 0) {
    const [one] = left.splice(dice.whole(0, left.length - 1), 1)
    if (one !== undefined) taken.add(one)
  }
  return taken
}
