import { type AlikeFigures, type FaultFigures, faintK, type YearFigures } from './detect-heater.ts'
import type { DetectRow } from './detect-water.ts'

/** One bar of the fault bank, and what came of it. */
export type Bar = Readonly<{ bar: string; figure: string; reached: boolean; why?: string }>

const percent = (part: number, of: number): number => (of === 0 ? 0 : (100 * part) / of)
const share = (part: number, of: number): string => `${percent(part, of).toFixed(1)} % of ${of}`
const minutes = (value: number | null): string => (value === null ? 'none' : `${value.toFixed(0)} min`)
const within = (value: number | null, most: number): boolean => value !== null && value <= most

type Faults = ReadonlyMap<string, readonly FaultFigures[]>

/** Runs that were missed for good, and why. */
function whyMissed({ missed }: FaultFigures): string {
  const { undecided, faint, other } = missed
  return [
    `Never found: ${undecided + faint + other}`,
    ...(undecided > 0 ? [`in ${undecided} it said that temperature alone cannot tell room from heater`] : []),
    ...(faint > 0 ? [`in ${faint} the heater lifts its tank by less than ${faintK} K above the room`] : []),
    ...(other > 0 ? [`in ${other} neither holds`] : [])
  ].join('; ')
}

/** Runs that were found, though too late. */
const whyLate = (late: number, than: string, figures: FaultFigures): string =>
  `Found, but ${than}: ${late}. ${whyMissed(figures)}`

/** A share, held against the best that can be done. */
const bestOf = (part: number, of: number): string =>
  `A detector that knew water, power and thermostat exactly and rang falsely half a time a year would do so in ${part} of ${of}`

/** A delay, held against the best that can be done. */
function whySlow(ideal: number | null | undefined, most: number): string {
  if (ideal === null || ideal === undefined) return ''
  const best = `A detector that knew water, power and thermostat exactly and rang falsely half a time a year would need ${ideal.toFixed(0)} min here`
  return ideal > most
    ? `${best}: a thermostat scatters by 0.02 to 0.12 K each time it switches, and a tank cools and warms at its own pace.`
    : `${best}; the rest is what it costs to learn band, scatter and pace of a tank from what its probe shows.`
}

/** What was said in ordinary years without a cause, the most frequent first. */
function whyFalse(causes: YearFigures['causes'], is: (kind: string) => boolean): string {
  return Object.entries(causes)
    .filter(([cause]) => is(cause))
    .toSorted(([, one], [, other]) => other - one)
    .map(([cause, count]) => `${count} ${cause}`)
    .join('; ')
}

/** What a look-alike has in common with a fault. */
const alikeReasons: Readonly<Record<string, string>> = {
  window: 'Cold air that draws more than the heater gives looks like a heater that gives none.',
  'cold-room': 'A room colder than ever draws more than the heater gives, as if that had failed.',
  'told-change': 'New water hides for a while whether it is warmed.',
  'untold-change': 'New water hides for a while whether it is warmed, and nobody said that it came.',
  'hot-room': 'A room that lifts the water above its thermostat looks like a heater that stays on.',
  sun: 'The sun can warm a tank exactly as its heater does; by day only its pace and its end tell them apart.'
}

/** What is asked of the heater judgement, against what it did. */
export function heaterBars(
  faults: Faults,
  alikes: readonly AlikeFigures[],
  lived: Readonly<{ years: YearFigures; poweredYears: YearFigures }>
): readonly Bar[] {
  const { years, poweredYears } = lived
  return [
    ...notHeatingBars(faults),
    ...stuckBars(faults),
    ...powerBars(faults),
    ...weakBars(faults, years),
    ...alikes.map(alikeBar),
    falseLoudBar('false loud alarms of the heater', years),
    falseLoudBar('false loud alarms of the heater, power known', poweredYears)
  ]
}

const falseLoudBar = (name: string, { falseLoud, causes }: YearFigures): Bar => ({
  bar: `${name}: at most 0.5 a tank-year`,
  figure: rate(falseLoud),
  reached: falseLoud.perYear <= 0.5,
  why: whyFalse(causes, (cause) => !cause.startsWith('weak'))
})

const rate = ({ perYear, low, high, count }: YearFigures['falseLoud']): string =>
  `${perYear.toFixed(2)} a tank-year (${low.toFixed(2)} to ${high.toFixed(2)}, ${count} seen)`

function of(faults: Faults, name: string, size: FaultFigures['size'] = 'all'): FaultFigures | undefined {
  return faults.get(name)?.find((one) => one.size === size)
}

function notHeatingBars(faults: Faults): readonly Bar[] {
  const [all, small, large] = triple(faults, 'not-heating')
  const plug = of(faults, 'unplugged-after-change')
  const bars: Bar[] = []
  if (all !== undefined)
    bars.push(
      shareBar('not heating: found in 98 %', all.found, all.shown, 98, whyMissed(all)),
      shareBar(
        'not heating: found by it or by the plain limit in 100 %',
        all.eitherFound,
        all.shown,
        100,
        whyNeither(all)
      ),
      {
        bar: 'not heating: 95 % within 150 min',
        figure: minutes(all.p95Min),
        reached: within(all.p95Min, 150),
        why: whySlow(all.idealP95Min, 150)
      },
      {
        bar: 'not heating: 4 h and more before a fixed limit of setpoint less 2 K, median',
        figure: all.gainedH === null ? 'none' : `${all.gainedH.toFixed(1)} h`,
        reached: (all.gainedH ?? 0) >= 4,
        why: `Found after ${minutes(all.medianMin)}, by the fixed limit after ${minutes(all.plainMedianMin)} (medians).`
      }
    )
  bars.push(...medianBars('not heating', [small, 35], [large, 45]))
  if (plug !== undefined)
    bars.push(
      shareBar(
        'unplugged after a change: within 90 min of the refill in 97 %',
        plug.within90,
        plug.shown,
        97,
        `${whyLate(plug.found - plug.within90, 'more than 90 minutes after', plug)}. ${bestOf(plug.idealWithin90, plug.shown)}`
      )
    )
  return bars
}

function stuckBars(faults: Faults): readonly Bar[] {
  const [all, small, large] = triple(faults, 'stuck-on')
  if (all === undefined) return []
  return [
    shareBar(
      'stuck on: found by it or by the plain limit in 100 %',
      all.eitherFound,
      all.shown,
      100,
      whyNeither(all)
    ),
    ...medianBars('stuck on', [small, 25], [large, 40]),
    shareBar(
      'stuck on: two hours and more before 30 °C in 97 %, where the physics leaves them',
      all.twoHours.kept,
      all.twoHours.left,
      97,
      `Found, but less than two hours before: ${all.twoHours.late}; not found: ${all.twoHours.left - all.twoHours.kept - all.twoHours.late}. By it or by the plain limit in time: ${all.twoHours.keptEither} of ${all.twoHours.left}. ${bestOf(all.twoHours.keptIdeal, all.twoHours.left)}`
    )
  ]
}

function powerBars(faults: Faults): readonly Bar[] {
  const stuck = of(faults, 'stuck-on, power known')
  const weak = of(faults, 'weak-heater, power known')
  const [, small, large] = triple(faults, 'not-heating, power known')
  return [
    ...medianBars('power known, stuck on', [stuck, 10]),
    ...medianBars('power known, not heating', [small, 15], [large, 35]),
    ...(weak === undefined
      ? []
      : [
          shareBar(
            'power known, weak: named within a day in 95 %',
            weak.within24h,
            weak.shown,
            95,
            whyLate(weak.found - weak.within24h, 'more than a day after', weak)
          )
        ])
  ]
}

function weakBars(faults: Faults, years: YearFigures): readonly Bar[] {
  const weak = of(faults, 'weak-heater')
  if (weak === undefined) return []
  return [
    shareBar(
      'weak heater (45 %): found within 24 h of its first shortfall in 75 %',
      weak.within24h,
      weak.shown,
      75,
      whyLate(weak.found - weak.within24h, 'more than a day after', weak)
    ),
    {
      bar: 'weak heater: at most 0.5 false ones a tank-year',
      figure: rate(years.falseWeak),
      reached: years.falseWeak.perYear <= 0.5,
      why: whyFalse(years.causes, (cause) => cause.startsWith('weak'))
    }
  ]
}

const mildBars: Readonly<Record<string, number>> = {
  window: 99,
  'cold-room': 99,
  'told-change': 99,
  'hot-room': 98,
  sun: 98,
  'untold-change': 98
}

function alikeBar({ alike, quiet, runs, said }: AlikeFigures): Bar {
  const least = mildBars[alike] ?? 98
  const what = Object.entries(said).map(([kind, count]) => `${kind} in ${count}`)
  const why = `Said first: ${what.join(', ')}. ${alikeReasons[alike] ?? ''}`
  return shareBar(`${alike}: nothing said of the heater in ${least} %`, quiet, runs, least, why)
}

function triple(faults: Faults, name: string): readonly (FaultFigures | undefined)[] {
  return [of(faults, name), of(faults, name, 'up to 75 L'), of(faults, name, 'above 75 L')]
}

function shareBar(bar: string, part: number, whole: number, least: number, why?: string): Bar {
  const reached = percent(part, whole) >= least
  return { bar, figure: share(part, whole), reached, ...(why === undefined || reached ? {} : { why }) }
}

/** The plain limit rings after a quarter-hour mean beyond 2 K from the setpoint for twenty minutes: else there was none. */
const whyNeither = ({ neither }: FaultFigures): string =>
  `In the other ${neither.all} the probe did not begin to show water 2 K beyond its setpoint for twenty minutes while the fault was watched; in ${neither.harmless} of them the true water never went there.`

function medianBars(
  name: string,
  ...sizes: readonly (readonly [FaultFigures | undefined, number])[]
): readonly Bar[] {
  return sizes.flatMap(([figures, most]) =>
    figures === undefined
      ? []
      : [
          {
            bar: `${name}, ${figures.size === 'all' ? 'all sizes' : figures.size}: median at most ${most} min`,
            figure: minutes(figures.medianMin),
            reached: within(figures.medianMin, most),
            why: whySlow(figures.idealMedianMin, most)
          }
        ]
  )
}

/** The water rows as bars. */
export const waterBar = (row: DetectRow): Bar => ({
  bar: `${row.row}: ${row.what} in ${(100 * row.bar).toFixed(0)} %`,
  figure: share(row.met, row.runs),
  reached: row.reached,
  why: `Missed by the seeds ${row.missed.slice(0, 8).join(', ')}${row.missed.length > 8 ? ' and others' : ''}${row.median === null ? '' : `; measured ${minutes(row.median)} in the middle`}.`
})
