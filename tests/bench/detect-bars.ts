import type { AlikeFigures, FaultFigures, YearFigures } from './detect-heater.ts'
import type { DetectRow } from './detect-water.ts'

/** One bar of the fault bank, and what came of it. */
export type Bar = Readonly<{ bar: string; figure: string; reached: boolean; why?: string }>

const percent = (part: number, of: number): number => (of === 0 ? 0 : (100 * part) / of)
const share = (part: number, of: number): string => `${percent(part, of).toFixed(1)} % of ${of}`
const minutes = (value: number | null): string => (value === null ? 'none' : `${value.toFixed(0)} min`)
const within = (value: number | null, most: number): boolean => value !== null && value <= most

type Faults = ReadonlyMap<string, readonly FaultFigures[]>

/** Why some bars stay out of reach. */
const reasons = {
  scatter:
    'A thermostat scatters by 0.02 to 0.12 K each time it switches, thousands of times a year: to stay silent the judgement waits until a switching so far beyond its edge would come by chance once in some years, and a tank cools and warms at its own pace.',
  small:
    'Some heaters can lift their tank by less than 5 K: a room that is a little cooler or warmer then looks the same to a thermometer, and the judgement says that it cannot tell.',
  sun: 'The sun can warm a tank exactly as its heater does; by day only its pace and its end tell them apart.'
} as const

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

const falseLoudBar = (name: string, { falseLoud }: YearFigures): Bar => ({
  bar: `${name}: at most 0.5 a tank-year`,
  figure: rate(falseLoud),
  reached: falseLoud.perYear <= 0.5,
  why: reasons.scatter
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
      shareBar('not heating: found in 98 %', all.found, all.shown, 98, reasons.small),
      shareBar('not heating: found by it or by the plain limit in 100 %', all.eitherFound, all.shown, 100),
      {
        bar: 'not heating: 95 % within 150 min',
        figure: minutes(all.p95Min),
        reached: within(all.p95Min, 150),
        why: `${reasons.scatter}${atBest(all.idealP95Min)}`
      },
      {
        bar: 'not heating: 4 h and more before a fixed limit of setpoint less 2 K, median',
        figure: all.gainedH === null ? 'none' : `${all.gainedH.toFixed(1)} h`,
        reached: (all.gainedH ?? 0) >= 4
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
        reasons.small
      )
    )
  return bars
}

function stuckBars(faults: Faults): readonly Bar[] {
  const [all, small, large] = triple(faults, 'stuck-on')
  if (all === undefined) return []
  return [
    shareBar('stuck on: found by it or by the plain limit in 100 %', all.eitherFound, all.shown, 100),
    ...medianBars('stuck on', [small, 25], [large, 40]),
    shareBar(
      'stuck on: two hours and more before 30 °C in 97 %, where the physics leaves them',
      all.twoHours.kept,
      all.twoHours.left,
      97,
      reasons.small
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
      : [shareBar('power known, weak: named within a day in 95 %', weak.within24h, weak.shown, 95)])
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
      reasons.small
    ),
    {
      bar: 'weak heater: at most 0.5 false ones a tank-year',
      figure: rate(years.falseWeak),
      reached: years.falseWeak.perYear <= 0.5
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

function alikeBar({ alike, quiet, runs }: AlikeFigures): Bar {
  const least = mildBars[alike] ?? 98
  const why = alike === 'sun' ? reasons.sun : reasons.scatter
  return shareBar(`${alike}: nothing said of the heater in ${least} %`, quiet, runs, least, why)
}

function triple(faults: Faults, name: string): readonly (FaultFigures | undefined)[] {
  return [of(faults, name), of(faults, name, 'up to 75 L'), of(faults, name, 'above 75 L')]
}

function shareBar(bar: string, part: number, whole: number, least: number, why?: string): Bar {
  const reached = percent(part, whole) >= least
  return { bar, figure: share(part, whole), reached, ...(why === undefined || reached ? {} : { why }) }
}

/** Physics and scatter alone, beside what was asked. */
const atBest = (value: number | null | undefined): string =>
  value === null || value === undefined
    ? ''
    : ` A detector that knew water, power and thermostat exactly and rang falsely half a time a year would need ${value.toFixed(0)} min here.`

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
            why: `${reasons.scatter}${atBest(figures.idealMedianMin)}`
          }
        ]
  )
}

/** The water rows as bars. */
export const waterBar = (row: DetectRow): Bar => ({
  bar: `${row.row}: ${row.what} in ${(100 * row.bar).toFixed(0)} %`,
  figure: share(row.met, row.runs),
  reached: row.reached
})
