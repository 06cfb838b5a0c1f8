import { makeDice } from '../../services/rehearsal/dice.ts'
import { type OrdinaryLife, ordinaryLife, type Truth } from '../../services/rehearsal/ordinary-life.ts'
import type { TankState } from '../../services/rehearsal/tank-state.ts'
import type { Bar } from './detect-bars.ts'
import { startAtMs } from './heater-fault.ts'
import { type Poisson, poisson } from './poisson.ts'
import { makeTrueWater, type Ring } from './true-water.ts'
import { loudRings, profileOf, type TestPlan, watchLife } from './water-life.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const days = 60

/** What rang loud in whole ordinary tanks, and nothing that happened there is a cause of it. */
export type WholeFigures = Readonly<{
  tankYears: number
  falseLoud: Poisson
  /** Every loud ring by kind, true ones marked. */
  kinds: Readonly<Record<string, number>>
  /** Each false one: where to find it. */
  falses: readonly string[]
  bars: readonly Bar[]
}>

/** What each thing that truly happens may rightly ring about itself, and for how long after its end. */
const rightly: Readonly<Partial<Record<Truth['kind'], Readonly<Record<string, number>>>>> = {
  // A heater that is plugged in again takes up to an hour to be seen at work.
  'heater-forgotten': { 'heater-not-heating': hourMs },
  // Boards come back within some minutes, and messages that could not be sent are told then.
  'power-cut': { 'power-cut': 10 * minuteMs, 'probe-silent': 10 * minuteMs, 'alert-undelivered': hourMs },
  'filter-stopped': { 'filter-stopped': 0 }
}

/** One loud ring of a whole life. */
export type WholeRing = Readonly<{
  kind: string
  because: string
  /** Minutes since the life began. */
  atMin: number
  isTrue: boolean
  /** Of a false one: the true water was as near to the limit as such a probe may be off. */
  isNear: boolean
  /** Of a false one: soon after, the true water did pass the limit. */
  isEarly: boolean
}>

/** What rang loud in one whole life, in its order. */
export type WholeLived = Readonly<{ seed: string; rings: readonly WholeRing[] }>

/** One whole ordinary tank of sixty days with tests every week, through the whole watch: what rang loud. */
export function liveWhole(at: number, seeds: string): WholeLived {
  const seed = `${seeds} whole ${at}`
  const atHour = 24 * makeDice(`${seed} week`).whole(0, 6) + 18
  const life = ordinaryLife({ seed, startAtMs, days })
  const tests: TestPlan = { everyHours: 168, atHour, quantities: ['ammonia', 'nitrite', 'kh', 'ph'] }
  return { seed, rings: judgeRings(life, { seed, tests: [tests] }) }
}

/**
 * Lets a written life pass through the watch and judges every loud ring: one that speaks of the water by what the
 * water truly was, one that speaks of anything else by what truly happened.
 */
export function judgeRings(
  life: OrdinaryLife,
  given: Readonly<{ seed: string; tests: readonly TestPlan[] }>
): readonly WholeRing[] {
  const { description } = life
  const water = makeTrueWater({ description, profile: profileOf(description, { fish: true }) })
  const heat = makeTrueHeat()
  const heard: { ring: Ring; waterSays: boolean | null }[] = []
  watchLife(life, {
    ...given,
    fish: true,
    look({ atMs, state, watch, changes }) {
      water.take(state)
      heat.take(state)
      for (const { kind, subject } of loudRings(changes)) {
        const slot = watch
          .board()
          .slots()
          .find((one) => one.kind === kind && one.subject === subject)
        const ring: Ring = { kind, because: slot?.finding?.because ?? '', atMs }
        heard.push({ ring, waterSays: water.bearsOut(ring) })
      }
      return false
    }
  })
  const passes = (ring: Ring): boolean =>
    Array.from({ length: earlyMin }, (_, minute) => ring.atMs + (minute + 1) * minuteMs).some(
      (atMs) => water.bearsOut({ ...ring, atMs }) === true
    )
  return heard.map(({ ring, waterSays }) => {
    const isTrue = waterSays ?? (heat.bearsOut(ring) || isCaused(ring, life.truths))
    return {
      kind: ring.kind,
      because: ring.because,
      atMin: Math.round((ring.atMs - life.startAtMs) / minuteMs),
      isTrue,
      isNear: !isTrue && water.bearsOut(ring, probeOffK) === true,
      isEarly: !isTrue && passes(ring)
    }
  })
}

/** DS18B20 data sheet: within 0.5 °C from -10 to 85 °C. */
const probeOffK = 0.5
const earlyMin = 120

/** Whether something that truly happened explains an alarm about it. */
const isCaused = ({ kind, atMs }: Ring, truths: readonly Truth[]): boolean =>
  truths.some((truth) => {
    const afterMs = rightly[truth.kind]?.[kind]
    return afterMs !== undefined && atMs >= truth.fromMs && atMs <= truth.toMs + afterMs
  })

/** Longer than any change of water lasts, in which a heater stands still: a heater that was without heat so long truly was. */
const withoutHeatMin = 40
/** So long after heat came back a judgement may still speak of the time without it. */
const heatSeenMin = 60

type Stretch = { fromMs: number; toMs: number }

/**
 * Whether a heater truly gave no heat though it was called for, or gave some though it was not; with the mains on. Asked
 * once all has been taken: a ring may come before a lack of heat has lasted long enough to be one.
 */
function makeTrueHeat(): Readonly<{
  take: (state: TankState) => void
  bearsOut: (ring: Ring) => boolean
}> {
  const without: Stretch[] = []
  const unasked: Stretch[] = []
  const note = (list: Stretch[], atMs: number): void => {
    const last = list.at(-1)
    if (last !== undefined && atMs - last.toMs <= minuteMs) last.toMs = atMs
    else list.push({ fromMs: atMs, toMs: atMs })
  }
  const covers = (list: readonly Stretch[], atMs: number, leastMin: number): boolean =>
    list.some(
      ({ fromMs, toMs }) =>
        toMs - fromMs >= (leastMin - 1) * minuteMs && atMs >= fromMs && atMs <= toMs + heatSeenMin * minuteMs
    )
  return {
    take({ atMs, mainsOn, heatCalledFor, heaterW }) {
      if (mainsOn && heatCalledFor && heaterW === 0) note(without, atMs)
      if (!heatCalledFor && heaterW > 0) note(unasked, atMs)
    },
    bearsOut({ kind, atMs }) {
      if (kind === 'heater-not-heating') return covers(without, atMs, withoutHeatMin)
      if (kind === 'heater-stuck-on') return covers(unasked, atMs, 1)
      return false
    }
  }
}

/** What the false ones were, the most frequent first. */
function whyFalse(falses: readonly WholeRing[]): string {
  const near = falses.filter(({ isNear }) => isNear).length
  const early = falses.filter(({ isNear, isEarly }) => isNear && isEarly).length
  const counts = new Map<string, number>()
  for (const { kind, because, isNear } of falses) {
    if (isNear) continue
    const name = `${kind} (${because})`
    counts.set(name, (counts.get(name) ?? 0) + 1)
  }
  const others = [...counts].toSorted(([, one], [, other]) => other - one)
  return [
    ...(near > 0
      ? [
          `${near} rang in water within ${probeOffK} °C of the limit: a sound probe may be off by so much; in ${early} of them the water passed the limit within ${earlyMin / 60} hours`
        ]
      : []),
    ...others.map(([name, count]) => `${count} ${name}`)
  ].join('; ')
}

/** Whole ordinary tanks taken together: what rang loud for nothing. */
export function wholeFigures(lives: readonly WholeLived[]): WholeFigures {
  const kinds: Record<string, number> = {}
  const all = lives.flatMap(({ seed, rings }) => rings.map((ring) => ({ seed, ...ring })))
  for (const { kind, isTrue } of all) {
    const name = `${kind}${isTrue ? ', rightly' : ''}`
    kinds[name] = (kinds[name] ?? 0) + 1
  }
  const falses = all.filter(({ isTrue }) => !isTrue)
  const tankYears = (lives.length * days) / 365
  const falseLoud = poisson(falses.length, tankYears)
  const { perYear, low, high, count } = falseLoud
  return {
    tankYears,
    falseLoud,
    kinds,
    falses: falses.map(({ seed, kind, because, atMin }) => `${seed}, minute ${atMin}: ${kind}, ${because}`),
    bars: [
      {
        bar: 'false loud alarms of all causes, whole tanks: at most 0.5 a tank-year',
        figure: `${perYear.toFixed(2)} a tank-year (${low.toFixed(2)} to ${high.toFixed(2)}, ${count} seen)`,
        reached: perYear <= 0.5,
        why: whyFalse(falses)
      }
    ]
  }
}
