import { ordinaryLife, type Truth } from '../../services/rehearsal/ordinary-life.ts'
import type { TankWish } from '../../services/rehearsal/ordinary-tank.ts'
import { type FaultRun, foundAfter, type HeaterTrouble, runFault, startAtMs } from './heater-fault.ts'
import { type HeaterKind, judgeLife } from './heater-life.ts'
import { type Poisson, poisson, quantile } from './poisson.ts'

const minuteMs = 60_000
const smallL = 75
/** A heater that lifts its tank by less: a room somewhat cooler or warmer then looks the same to a thermometer. */
export const faintK = 5

/** A fault as the judgement found it, of all tanks or of those up to 75 L or above. */
export type FaultFigures = Readonly<{
  fault: string
  size: 'all' | 'up to 75 L' | 'above 75 L'
  /** Runs in which the fault showed. */
  shown: number
  found: number
  medianMin: number | null
  p95Min: number | null
  /** After a change: from when the water was back; at best likewise. */
  within90: number
  idealWithin90: number
  within24h: number
  /** Of a detector that knows all but the next switching point. */
  idealMedianMin: number | null
  idealP95Min: number | null
  /** Runs in which it was said after its onset and before it shows: found at once where it still stands then. */
  saidBefore: number
  /** Runs in which another kind than the true one was found as well. */
  confused: Readonly<Record<string, number>>
  plainFound: number
  plainMedianMin: number | null
  /** Found by the judgement or by the plain limit. */
  eitherFound: number
  /** Median of what the judgement was ahead of the plain limit, h; where that never rang, the rest of the run counts. */
  gainedH: number | null
  /** Runs in which it was never found, by the first of these that holds. */
  missed: Readonly<{ undecided: number; faint: number; other: number }>
  /** Of runs in which the physics leaves two hours before 30 °C: how many were found two hours before it. */
  twoHours: Readonly<{ left: number; kept: number; late: number; keptEither: number; keptIdeal: number }>
  /** Of runs that neither found: in how many the true water never went two kelvin beyond the setpoint. */
  neither: Readonly<{ all: number; harmless: number }>
}>

/** Something that only looks like a fault. */
export type AlikeFigures = Readonly<{
  alike: string
  runs: number
  quiet: number
  said: Readonly<Record<string, number>>
  plainRang: number
}>

/** Ordinary years: what rang without a cause. */
export type YearFigures = Readonly<{
  tankYears: number
  falseLoud: Poisson
  falseWeak: Poisson
  /** Forgotten heaters that were told, of all there were. */
  forgotten: Readonly<{ all: number; told: number }>
  causes: Readonly<Record<string, number>>
  /** Of the plain limit, whatever the cause: each ring, a year. */
  plain: Poisson
}>

const kindOf: Partial<Record<HeaterTrouble, HeaterKind>> = {
  'not-heating': 'not-heating',
  'unplugged-after-change': 'not-heating',
  'stuck-on': 'stuck-on',
  'weak-heater': 'weak'
}

/** Lives so many runs of a trouble; runs whose written life is none of its kind are written anew. */
export function livesOf(
  trouble: HeaterTrouble,
  given: Readonly<{ seeds: string; runs: number; wish?: TankWish }>
): readonly FaultRun[] {
  const runs: FaultRun[] = []
  for (let at = 0; runs.length < given.runs && at < 4 * given.runs; at += 1) {
    const run = runFault(trouble, `${given.seeds} ${trouble} ${at}`, given.wish)
    if (run !== null) runs.push(run)
  }
  return runs
}

export function faultFigures(
  trouble: HeaterTrouble,
  all: readonly FaultRun[],
  size: FaultFigures['size']
): FaultFigures {
  const kind = kindOf[trouble] ?? 'not-heating'
  const runs = all.filter(
    ({ volumeL }) => size === 'all' || (size === 'up to 75 L' ? volumeL <= smallL : volumeL > smallL)
  )
  const shown = runs.filter(({ shows }) => shows !== null)
  const side = kind === 'stuck-on' ? 'warm' : 'cold'
  const each = shown.map((run) => ({
    run,
    shows: run.shows ?? 0,
    found: foundAfter(run, kind),
    plain: run.plain.find((one) => one.kind === side && one.atMin >= (run.shows ?? 0))?.atMin ?? null
  }))
  const delays = each.flatMap(({ found }) => (found === null ? [] : [found]))
  const plains = each.flatMap(({ plain, shows }) => (plain === null ? [] : [plain - shows]))
  const ideals = shown.flatMap(({ ideal }) => ideal ?? [])
  const gained = each.flatMap(({ found, plain, shows, run }) =>
    found === null ? [] : [((plain ?? run.lastMin) - shows - found) / 60]
  )
  const never = each.filter(({ found }) => found === null)
  const neither = never.filter(({ plain }) => plain === null)
  const left = each.filter(({ run, shows }) => run.reached30 === null || run.reached30 - shows >= 120)
  return {
    fault: trouble,
    size,
    shown: shown.length,
    found: delays.length,
    medianMin: quantile(delays, 0.5),
    p95Min: quantile(delays, 0.95),
    within90: each.filter(({ run, found }) => found !== null && isIn90(run, found)).length,
    idealWithin90: shown.filter((run) => run.ideal !== null && isIn90(run, run.ideal)).length,
    within24h: delays.filter((minutes) => minutes <= 1440).length,
    idealMedianMin: quantile(ideals, 0.5),
    idealP95Min: quantile(ideals, 0.95),
    saidBefore: shown.filter(({ hits, shows }) =>
      hits.some((hit) => hit.kind === kind && hit.atMin < (shows ?? 0) - 1)
    ).length,
    confused: counted(
      runs.flatMap((run) => [...new Set(run.hits.map((hit) => hit.kind))]).filter((one) => one !== kind)
    ),
    plainFound: plains.length,
    plainMedianMin: quantile(plains, 0.5),
    eitherFound: each.filter(({ found, plain }) => found !== null || plain !== null).length,
    gainedH: quantile(gained, 0.5),
    missed: {
      undecided: never.filter(({ run }) => run.undecided).length,
      faint: never.filter(({ run }) => !run.undecided && run.liftK < faintK).length,
      other: never.filter(({ run }) => !run.undecided && run.liftK >= faintK).length
    },
    twoHours: {
      left: left.length,
      late: left.filter(
        ({ run, shows, found }) =>
          run.reached30 !== null && found !== null && found + shows > run.reached30 - 120
      ).length,
      kept: left.filter(
        ({ run, shows, found }) =>
          run.reached30 === null || (found !== null && found + shows <= run.reached30 - 120)
      ).length,
      keptEither: left.filter(
        ({ run, shows, found, plain }) =>
          run.reached30 === null ||
          (found !== null && found + shows <= run.reached30 - 120) ||
          (plain !== null && plain <= run.reached30 - 120)
      ).length,
      keptIdeal: left.filter(
        ({ run, shows }) =>
          run.reached30 === null || (run.ideal !== null && run.ideal + shows <= run.reached30 - 120)
      ).length
    },
    neither: {
      all: neither.length,
      harmless: neither.filter(({ run }) => run.furthestK < 2).length
    }
  }
}

/** Counted from when the water was back, also where heat was called for only later. */
const isIn90 = ({ shows, refilled }: FaultRun, minutes: number): boolean =>
  (shows ?? 0) + minutes - (refilled ?? shows ?? 0) <= 90

export function alikeFigures(trouble: HeaterTrouble, runs: readonly FaultRun[]): AlikeFigures {
  return {
    alike: trouble,
    runs: runs.length,
    quiet: runs.filter(({ hits }) => hits.length === 0).length,
    said: counted(runs.flatMap((run) => [...new Set(run.hits.map(saidOf))])),
    plainRang: runs.filter(({ plain }) => plain.length > 0).length
  }
}

/** A thermostat that wanders is a kind of its own here, though it is told by the alarm of weak heaters. */
const saidOf = ({ kind, because }: FaultRun['hits'][number]): string =>
  because === 'thermostat-wanders' ? 'wandering thermostat' : kind

/** So long after its end a trouble may still be the cause. */
const afterMs = 12 * 60 * minuteMs

/** What one ordinary year brought. */
export type YearLived = Readonly<{
  loud: number
  weak: number
  plain: number
  forgotten: number
  told: number
  causes: readonly string[]
}>

/** One year of an ordinary tank. A forgotten heater is a true alarm; everything else is none. */
export function liveYear(year: number, given: Readonly<{ seeds: string; wish?: TankWish }>): YearLived {
  const { wish } = given
  const life = ordinaryLife({
    seed: `${given.seeds} year ${year}`,
    startAtMs,
    ...(wish === undefined ? {} : { wish })
  })
  const { hits, plain } = judgeLife(life, `${given.seeds} lived ${year}`)
  const overlaps = (truth: Truth, atMin: number): boolean => {
    const atMs = startAtMs + atMin * minuteMs
    return atMs >= truth.fromMs - 10 * minuteMs && atMs <= truth.toMs + afterMs
  }
  const plugs = life.truths.filter(({ kind }) => kind === 'heater-forgotten')
  const told = plugs.filter((plug) =>
    hits.some(({ kind, atMin }) => kind === 'not-heating' && overlaps(plug, atMin))
  )
  const falses = hits.filter(({ atMin }) => !plugs.some((plug) => overlaps(plug, atMin)))
  const weak = falses.filter(({ kind }) => kind === 'weak').length
  return {
    loud: falses.length - weak,
    weak,
    plain: plain.length,
    forgotten: plugs.length,
    told: told.length,
    causes: falses.map(({ kind, atMin }) => {
      const near = new Set(life.truths.filter((truth) => overlaps(truth, atMin)).map((truth) => truth.kind))
      return `${kind} near ${[...near].sort().join(' and ') || 'nothing'}`
    })
  }
}

/** Years of ordinary tanks taken together. */
export function yearFigures(years: readonly YearLived[]): YearFigures {
  const tankYears = years.length
  const sum = (of: (year: YearLived) => number): number => years.reduce((total, year) => total + of(year), 0)
  return {
    tankYears,
    falseLoud: poisson(
      sum((year) => year.loud),
      tankYears
    ),
    falseWeak: poisson(
      sum((year) => year.weak),
      tankYears
    ),
    forgotten: { all: sum((year) => year.forgotten), told: sum((year) => year.told) },
    causes: counted(years.flatMap((year) => year.causes)),
    plain: poisson(
      sum((year) => year.plain),
      tankYears
    )
  }
}

function counted(list: readonly string[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {}
  for (const one of list) counts[one] = (counts[one] ?? 0) + 1
  return counts
}
