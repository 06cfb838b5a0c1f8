import { noticesAt } from '../../services/hub/notices.ts'
import type { TankWatch } from '../../services/hub/tank-watch.ts'
import { makeDice } from '../../services/rehearsal/dice.ts'
import { ordinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import { type Trouble, type TroubledLife, troubledLife } from '../../services/rehearsal/trouble.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import { isLoud, loudRings, rings, type TestPlan, watchLife } from './water-life.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs
const startAtMs = 1_790_000_000_000 - (1_790_000_000_000 % dayMs)

/** One line of the fault bank: in how many runs the watch did what it must. */
export type DetectRow = Readonly<{
  row: string
  runs: number
  /** Runs in which the fault never came to the point that is measured; they count for nothing. */
  leftOut: number
  met: number
  share: number
  bar: number
  reached: boolean
  /** Of the measured time, in minutes; null where none was measured. */
  median: number | null
  worst: number | null
  what: string
  /** Seeds of the runs that did not. */
  missed: readonly string[]
}>

/** What one run of a row came to. */
export type WaterRun = Readonly<{ met: boolean; minutes: number | null }> | 'left-out'
type RowPlan = Readonly<{ row: string; what: string; bar: number; run: (seed: string) => WaterRun }>

/** The rows by name, as they are run. */
export const waterRowNames = (): readonly string[] => plans.map(({ row }) => row)
/** The seeds of one row. Those of tuning and of reporting must differ: name them apart. */
export const waterSeeds = (
  row: string,
  given: Readonly<{ seeds: string; runs: number }>
): readonly string[] => Array.from({ length: given.runs }, (_, at) => `${given.seeds} ${row} ${at}`)
/** One run of one row. */
export const runWater = (row: string, seed: string): WaterRun => planOf(row).run(seed)

function planOf(row: string): RowPlan {
  const plan = plans.find((one) => one.row === row)
  if (plan === undefined) throw new Error(`there is no water row "${row}"`)
  return plan
}

/** The runs of a row taken together, in the order of their seeds. */
export function waterRow(row: string, all: readonly Readonly<{ seed: string; run: WaterRun }>[]): DetectRow {
  const plan = planOf(row)
  const counted = all.flatMap(({ seed, run }) => (run === 'left-out' ? [] : [{ seed, ...run }]))
  const met = counted.filter((run) => run.met).length
  const minutes = counted.flatMap((run) => run.minutes ?? []).sort((a, b) => a - b)
  const share = counted.length === 0 ? 0 : met / counted.length
  return {
    row: plan.row,
    what: plan.what,
    runs: counted.length,
    leftOut: all.length - counted.length,
    met,
    share,
    bar: plan.bar,
    reached: counted.length > 0 && share >= plan.bar,
    median: minutes[minutes.length >> 1] ?? null,
    worst: minutes.at(-1) ?? null,
    missed: counted.filter((run) => !run.met).map(({ seed }) => seed)
  }
}

const lifeOf = (
  trouble: Trouble,
  seed: string,
  days: Readonly<{ quiet: number; lasts: number }>
): TroubledLife => troubledLife({ seed, trouble, startAtMs, quietDays: days.quiet, lastsDays: days.lasts })

/** Weekly tests begin on some day of the first week; a keeper's week does not know when a fault begins. */
function weekly(seed: string, quantities: TestPlan['quantities']): TestPlan {
  const dice = makeDice(`${seed} week`)
  return { everyHours: 168, atHour: 24 * dice.whole(0, 6) + 18, quantities }
}

const acidWarnings = ['ph-falling', 'alkalinity-low', 'ph-crash']

/** Whether anything warned so many hours before pH 6.5 was reached. */
function hardnessRun(seed: string, given: Readonly<{ tests: boolean; hoursBefore: number }>): WaterRun {
  const life = lifeOf('hardness-used-up', seed, { quiet: 14, lasts: 28 })
  let crashedMs: number | null = null
  let warnedMs: number | null = null
  watchLife(life, {
    seed,
    fish: true,
    tests: given.tests ? [weekly(seed, ['kh'])] : [],
    look({ atMs, state, changes }) {
      const warning = rings(changes).find((change) => acidWarnings.includes(change.kind))
      if (warning !== undefined && atMs >= life.onsetMs) warnedMs ??= atMs
      if (state.pH < 6.5) crashedMs = atMs
      return crashedMs !== null || (warnedMs !== null && atMs - warnedMs > given.hoursBefore * hourMs)
    }
  })
  if (crashedMs === null && warnedMs === null) return 'left-out'
  const minutes = crashedMs === null || warnedMs === null ? null : (crashedMs - warnedMs) / minuteMs
  // Warned, and pH 6.5 not reached within the asked hours: early enough, by how much was not waited for.
  return { met: warnedMs !== null && (minutes === null || minutes >= given.hoursBefore * 60), minutes }
}

function ammoniaRun(seed: string): WaterRun {
  const life = lifeOf('ammonia-by-rising-ph', seed, { quiet: 2, lasts: 3 })
  let aboveSinceMs: number | null = null
  let passedMs: number | null = null
  let rangMs: number | null = null
  watchLife(life, {
    seed,
    fish: true,
    tests: [{ everyHours: 24, atHour: 1, quantities: ['ammonia', 'ph'] }],
    look({ atMs, watch, changes }) {
      const { value } = watch.derivedAt(atMs).nh3
      if (value === null || value <= 0.05) aboveSinceMs = null
      else aboveSinceMs ??= atMs
      // A single noisy minute over the limit is not passing it.
      if (aboveSinceMs !== null && atMs - aboveSinceMs >= 5 * minuteMs) passedMs ??= aboveSinceMs
      if (rings(changes).some(({ kind }) => kind === 'ammonia-unsafe')) rangMs ??= atMs
      return rangMs !== null && passedMs !== null
    }
  })
  if (passedMs === null) return 'left-out'
  const minutes = rangMs === null ? null : (rangMs - passedMs) / minuteMs
  return { met: minutes !== null && minutes <= 10, minutes }
}

/** A day of CO2 that nobody wrote down; deeper than a unit, or below pH 6, it may well ring. */
function firstGasRun(seed: string): WaterRun {
  const life = lifeOf('co2-first-day', seed, { quiet: 14, lasts: 3 })
  let beforePH: number | null = null
  let lowestPH = Number.POSITIVE_INFINITY
  let fellMs: number | null = null
  let askedMs: number | null = null
  const rang: AlarmChange[] = []
  watchLife(life, {
    seed,
    fish: true,
    tests: [weekly(seed, ['kh'])],
    look({ atMs, state, watch, changes }) {
      if (atMs < life.onsetMs) return false
      beforePH ??= state.pH
      lowestPH = Math.min(lowestPH, state.pH)
      if (beforePH - state.pH > 0.35) fellMs ??= atMs
      if (fellMs !== null && atMs % hourMs === 0 && asksAboutGas(watch, atMs)) askedMs ??= atMs
      rang.push(...rings(changes).filter(({ kind }) => acidWarnings.includes(kind)))
      return fellMs !== null && atMs > fellMs + dayMs
    }
  })
  if (fellMs === null || beforePH === null || lowestPH < 6 || beforePH - lowestPH > 1) return 'left-out'
  return {
    met: rang.length === 0 && askedMs !== null,
    minutes: askedMs === null ? null : (askedMs - fellMs) / minuteMs
  }
}
const asksAboutGas = (watch: TankWatch, atMs: number): boolean =>
  noticesAt(watch, watch.derivedAt(atMs), atMs).some(({ notice }) => notice === 'is-it-co2')

/** One alarm of the right kind in time, and no second one that rings in the two hours after. */
function silenceRun(seed: string, trouble: 'probe-silent' | 'all-silent'): WaterRun {
  const life = lifeOf(trouble, seed, { quiet: 1, lasts: 2 })
  const everyMs = life.description.probes[0]?.everyMs ?? minuteMs
  const heard: AlarmChange[] = []
  watchLife(life, {
    seed,
    fish: true,
    tests: [],
    look({ atMs, changes }) {
      if (atMs >= life.onsetMs) heard.push(...rings(changes).filter(isLoud))
      return atMs > life.onsetMs + 2 * hourMs
    }
  })
  const [first, second] = heard
  if (first === undefined) return { met: false, minutes: null }
  const minutes = (first.atMs - life.onsetMs) / minuteMs
  const kind = trouble === 'probe-silent' ? 'probe-silent' : 'power-cut'
  // Counted from the last word that came, which lies up to one interval before the fault.
  const inTime = first.atMs - life.onsetMs <= 3 * everyMs + minuteMs
  return { met: first.kind === kind && second === undefined && inTime, minutes }
}

function fishlessRun(seed: string): WaterRun {
  const life = lifeOf('fishless-cycle', seed, { quiet: 1, lasts: 21 })
  const changes = watchLife(life, {
    seed,
    fish: false,
    tests: [{ everyHours: 24, atHour: 18, quantities: ['ammonia', 'nitrite', 'ph'] }, weekly(seed, ['kh'])]
  })
  return { met: loudRings(changes).length === 0, minutes: null }
}

const waterKinds = [
  'ph-falling',
  'ph-crash',
  'alkalinity-low',
  'ammonia-unsafe',
  'nitrite-unsafe',
  'chlorine-present'
]

/** Sixty ordinary days with tests every week; met where nothing about the water rings loud. */
function ordinaryRun(seed: string): WaterRun {
  const life = ordinaryLife({ seed, startAtMs, days: 60 })
  const changes = watchLife(life, {
    seed,
    fish: true,
    tests: [weekly(seed, ['ammonia', 'nitrite', 'kh', 'ph'])]
  })
  const loud = loudRings(changes).filter(({ kind }) => waterKinds.includes(kind))
  return { met: loud.length === 0, minutes: null }
}

const plans: readonly RowPlan[] = [
  {
    row: 'hardness used up, a KH test a week',
    what: 'warned 24 h or more before pH 6.5',
    bar: 0.97,
    run: (seed) => hardnessRun(seed, { tests: true, hoursBefore: 24 })
  },
  {
    row: 'hardness used up, no KH test',
    what: 'warned 6 h or more before pH 6.5',
    bar: 0.97,
    run: (seed) => hardnessRun(seed, { tests: false, hoursBefore: 6 })
  },
  {
    row: 'ammonia unsafe by rising pH',
    what: 'rings within 10 minutes of the live value passing 0.05 mg/L',
    bar: 1,
    run: ammoniaRun
  },
  {
    row: 'probe silent',
    what: 'one loud alarm, within three intervals and a minute',
    bar: 1,
    run: (seed) => silenceRun(seed, 'probe-silent')
  },
  {
    row: 'all silent',
    what: 'one loud alarm, within three intervals and a minute',
    bar: 1,
    run: (seed) => silenceRun(seed, 'all-silent')
  },
  {
    row: 'first day of CO2, untold',
    what: 'asked about, and no alarm for a day',
    bar: 0.98,
    run: firstGasRun
  },
  { row: 'fishless cycle', what: 'three weeks without a loud alarm', bar: 1, run: fishlessRun },
  {
    row: 'ordinary water',
    what: 'sixty ordinary days without a loud alarm about the water',
    bar: 0.92,
    run: ordinaryRun
  }
]
