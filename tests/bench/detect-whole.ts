import { makeDice } from '../../services/rehearsal/dice.ts'
import { ordinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import type { Bar } from './detect-bars.ts'
import { startAtMs } from './heater-fault.ts'
import { type Poisson, poisson } from './poisson.ts'
import { isLoud, rings, watchLife } from './water-life.ts'

const hourMs = 3_600_000
const days = 60

/** What rang loud in whole ordinary tanks, and nothing that happened there is a cause of it. */
export type WholeFigures = Readonly<{
  tankYears: number
  falseLoud: Poisson
  /** Every loud ring by kind, true ones marked. */
  kinds: Readonly<Record<string, number>>
  bars: readonly Bar[]
}>

/** What each thing that truly happens may rightly ring, and for how long after it. */
const rightly: Readonly<Record<string, readonly string[]>> = {
  'heater-forgotten': ['heater-not-heating', 'water-cold-danger'],
  'power-cut': ['power-cut', 'probe-silent', 'alert-undelivered'],
  'filter-stopped': ['filter-stopped'],
  'hot-spell': ['water-warm-danger'],
  'cold-spell': ['water-cold-danger']
}
const afterMs = 12 * hourMs

/** What rang loud in one whole life, in its order. */
export type WholeLived = readonly Readonly<{ kind: string; isTrue: boolean }>[]

/** One whole ordinary tank of sixty days with tests every week, through the whole watch: what rang loud. */
export function liveWhole(at: number, seeds: string): WholeLived {
  const seed = `${seeds} whole ${at}`
  const life = ordinaryLife({ seed, startAtMs, days })
  const atHour = 24 * makeDice(`${seed} week`).whole(0, 6) + 18
  const changes = watchLife(life, {
    seed,
    fish: true,
    tests: [{ everyHours: 168, atHour, quantities: ['ammonia', 'nitrite', 'kh', 'ph'] }]
  })
  const isTrue = ({ kind, atMs }: AlarmChange): boolean =>
    life.truths.some(
      (truth) =>
        atMs >= truth.fromMs && atMs <= truth.toMs + afterMs && rightly[truth.kind]?.includes(kind) === true
    )
  return rings(changes)
    .filter(isLoud)
    .map((change) => ({ kind: change.kind, isTrue: isTrue(change) }))
}

/** Whole ordinary tanks taken together: what rang loud for nothing. */
export function wholeFigures(lives: readonly WholeLived[]): WholeFigures {
  const kinds: Record<string, number> = {}
  for (const { kind, isTrue } of lives.flat()) {
    const name = `${kind}${isTrue ? ', rightly' : ''}`
    kinds[name] = (kinds[name] ?? 0) + 1
  }
  const falses = lives.flat().filter(({ isTrue }) => !isTrue).length
  const tankYears = (lives.length * days) / 365
  const falseLoud = poisson(falses, tankYears)
  const { perYear, low, high, count } = falseLoud
  return {
    tankYears,
    falseLoud,
    kinds,
    bars: [
      {
        bar: 'false loud alarms of all causes, whole tanks: at most 0.5 a tank-year',
        figure: `${perYear.toFixed(2)} a tank-year (${low.toFixed(2)} to ${high.toFixed(2)}, ${count} seen)`,
        reached: perYear <= 0.5
      }
    ]
  }
}
