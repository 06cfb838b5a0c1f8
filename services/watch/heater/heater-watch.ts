import { minuteMs } from '../../series/minutes.ts'
import { type DryProbe, makeDryProbe } from './dry-probe.ts'
import { type ExchangeOfWater, makeExchangeOfWater, type Pace } from './exchange-of-water.ts'
import { type HeatFilter, makeHeatFilter } from './heat-filter.ts'
import { type HeaterPower, makeHeaterPower } from './heater-power.ts'
import type { HeaterPrior } from './heater-prior.ts'
import type { HeaterMinute, HeaterStanding } from './heater-standing.ts'
import { type HeatingCycle, makeHeatingCycle, sureOn } from './heating-cycle.ts'
import { isOneBand, lastPlausibleC } from './learned-band.ts'
import { recovery } from './not-heating-sign.ts'
import { makeProbeNoise, type ProbeNoise } from './probe-noise.ts'
import { makeUsualRest, type UsualRest } from './usual-rest.ts'

/** Follows one tank's heater through its minutes, in time order, each once. */
export type HeaterWatch = Readonly<{
  take: (minute: HeaterMinute) => HeaterStanding | null
  /** The keeper wrote of a water change at this moment. */
  toldChange: (atMs: number) => void
  /** Another heater, or its dial was turned: what was learned of its edges is void. */
  heaterChanged: () => void
}>

/** A longer silence than this is judged anew from where the water then is. */
const unseenMin = 20
/** What an open window can take from a room, and a hot day or the sun add, kelvin. Common practice, no source. */
const windowK = 8
const warmRoomK = 8
/** The heater may be somewhat stronger than told. */
const strongerFrac = 1.2
/** A change is written down up to so long before it is done. */
const changeTakesMin = 30
/** A belief against all that is usual is given up after so long. */
const wrongMin = 30
const wrongK = 2.5
/** Rests of the last two hours, to compare with a little earlier. */
const kept = 128
const spanMin = 120
/** The newest switchings are some hours old: an edge that wanders has gone on since. Tuned, see the fault bank. */
const followAhead = 1.5
/** When the beginning of a stretch of heat is looked at, and how long before it the room is compared with. */
const start = { atMin: 20, beforeMin: 40, onFrac: 0.85 } as const
/** So long is remembered how often the water fell short of its band. */
const shortMemoryMin = 14 * 1440

export function makeHeaterWatch(prior: HeaterPrior, ratedW: number | null): HeaterWatch {
  const parts: Parts = {
    noise: makeProbeNoise(),
    water: makeExchangeOfWater(),
    cycle: makeHeatingCycle(),
    rest: makeUsualRest(prior.roomC),
    power: makeHeaterPower(ratedW),
    dry: makeDryProbe(),
    filter: null,
    rests: new Float64Array(kept).fill(Number.NaN),
    short: { nowFrac: 0, beforeFrac: 0 },
    lastHeardMin: null,
    startGapK: null,
    wrongSinceMin: null
  }
  return {
    take: (minute) => take(parts, prior, minute),
    toldChange: (atMs) => parts.water.told(Math.floor(atMs / minuteMs) + changeTakesMin),
    heaterChanged: () => parts.cycle.forget()
  }
}

type Parts = {
  readonly noise: ProbeNoise
  readonly water: ExchangeOfWater
  readonly cycle: HeatingCycle
  readonly rest: UsualRest
  readonly power: HeaterPower
  readonly dry: DryProbe
  filter: HeatFilter | null
  readonly rests: Float64Array
  readonly short: { nowFrac: number; beforeFrac: number }
  lastHeardMin: number | null
  startGapK: number | null
  wrongSinceMin: number | null
}

function take(parts: Parts, prior: HeaterPrior, minute: HeaterMinute): HeaterStanding | null {
  const { waterC } = minute
  const atMin = Math.floor(minute.atMs / minuteMs)
  if (parts.filter === null && waterC === null) return null
  const filter = parts.filter ?? makeHeatFilter(prior, waterC ?? 0)
  parts.filter = filter
  parts.power.hear(atMin, minute.heaterW)
  const { noise, water, cycle, rest } = parts
  if (waterC !== null) hear(parts, filter, atMin, waterC)
  const before = filter.belief()
  const pace = paceOf(parts, prior, atMin, before.waterC)
  const settledC = water.step(atMin, waterC, pace)
  if (settledC !== null) filter.lose(settledC)
  parts.dry.step({
    atMin,
    waterC,
    settledC,
    everyMin: noise.everyMin(),
    roomlikeC: rest.byRoomC(minute.roomC) ?? rest.restC()
  })
  const power = parts.power.standing(atMin)
  filter.step({
    waterC: water.isRunning() ? null : waterC,
    noiseK: pace.noiseK,
    isOn: power?.isOn ?? null,
    restC: rest.byRoomC(minute.roomC)
  })
  const belief = filter.belief()
  parts.rests[atMin % kept] = belief.restC
  const { setpointC } = prior
  const isBand = isOneBand(cycle.lower(), cycle.upper())
  const followedK = followAhead * cycle.followedK()
  const lowestC = followed(
    lastPlausibleC(isBand ? cycle.lower() : null, { side: 'lower', setpointC }),
    Math.min(0, followedK)
  )
  const highestC = followed(
    lastPlausibleC(isBand ? cycle.upper() : null, { side: 'upper', setpointC }),
    Math.max(0, followedK)
  )
  learnRest(parts, minute, { atMin, lowestC, highestC })
  cycle.step({
    atMin,
    waterC: belief.waterC,
    onFrac: belief.onFrac,
    isMeasured: power !== null,
    noiseK: noise.sdK(),
    movedMin: water.lastMin(),
    isMoving: water.isRunning(),
    isPlausible: Math.abs(belief.restC - rest.restC()) < 3.5,
    setpointC
  })
  parts.startGapK = startGapK(parts, atMin - cycle.onSinceMin(), atMin)
  const lastHeardMin = parts.lastHeardMin ?? atMin
  const standing: HeaterStanding = {
    atMin,
    isLive:
      !water.isRunning() &&
      atMin - lastHeardMin <= Math.max(6, 2 * noise.everyMin()) &&
      atMin - water.lastMin() > 15,
    belief,
    prior,
    usualRestC: rest.byRoomC(minute.roomC) ?? rest.restC(),
    isRestLearned: rest.isLearned() || prior.isRoomTold,
    lower: cycle.lower(),
    upper: cycle.upper(),
    lowestC,
    highestC,
    shortFrac: shortFrac(
      parts.short,
      lowestC !== null && belief.waterC < lowestC && atMin - water.lastMin() > recovery.toMin
    ),
    everyMin: noise.everyMin(),
    noiseK: noise.sdK(),
    movedMin: water.lastMin(),
    lastFallK: water.lastFallK(),
    steepMin: water.lastSteepMin(),
    offSinceMin: cycle.offSinceMin(),
    onSinceMin: cycle.onSinceMin(),
    onFromC: cycle.onFromC(),
    offFromC: cycle.offFromC(),
    periodMin: cycle.periodMin(),
    wanderedK: cycle.wanderedK(atMin),
    followedK,
    dryFall: parts.dry.fall(),
    startGapK: parts.startGapK,
    power,
    roomC: minute.roomC,
    sunMayShine: minute.sunMayShine,
    restSpanK: minute.sunMayShine && belief.onFrac > sureOn ? restSpanK(parts.rests, atMin) : 0
  }
  dropWrongBelief(parts, filter, standing)
  return standing
}

function hear(parts: Parts, filter: HeatFilter, atMin: number, value: number): void {
  if (parts.lastHeardMin !== null && atMin - parts.lastHeardMin > unseenMin) {
    filter.lose(value)
    parts.water.unseen(atMin)
  }
  parts.lastHeardMin = atMin
  parts.noise.hear({ atMin, value, isStill: !parts.water.isRunning() })
}

/** Share of the last days below the band; what is going on now does not count. */
function shortFrac(short: Parts['short'], isShort: boolean): number {
  short.nowFrac += ((isShort ? 1 : 0) - short.nowFrac) / shortMemoryMin
  if (!isShort) short.beforeFrac = short.nowFrac
  return short.beforeFrac
}

/** By how much the room would have had to jump when heat began, had no heater begun it; null where that is not known. */
function startGapK({ filter, rests, startGapK: before }: Parts, onMin: number, atMin: number): number | null {
  if (onMin !== start.atMin) return onMin > start.atMin ? before : null
  const belief = filter?.belief()
  if (belief === undefined || belief.onFrac <= start.onFrac) return null
  return belief.restC - (rests[(atMin - onMin - start.beforeMin) % kept] as number)
}

function restSpanK(rests: Float64Array, atMin: number): number {
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (let back = 0; back < spanMin; back += 1) {
    const restC = rests[(atMin - back) % kept] as number
    if (restC < least) least = restC
    if (restC > most) most = restC
  }
  return most > least ? most - least : 0
}

/** The floor under the noise: a step of the sensor stays the same for many minutes, so it does not average out. */
const stepNoiseK = 0.035
const leastGapK = 0.3

function paceOf(parts: Parts, prior: HeaterPrior, atMin: number, waterC: number): Pace {
  const usualC = parts.rest.restC()
  const halfHourAgoC = parts.rests[(atMin - 30) % kept] as number
  const restC = Number.isNaN(halfHourAgoC) ? usualC : halfHourAgoC
  return {
    offPerH: Math.max(leastGapK, waterC - restC) / prior.coolingH,
    fallLimitPerH: (Math.max(0, waterC - usualC) + windowK) / prior.coolingH,
    riseLimitPerH: prior.heatingPerH * strongerFrac + warmRoomK / prior.coolingH,
    noiseK: Math.hypot(1.1 * parts.noise.sdK(), stepNoiseK),
    everyMin: parts.noise.everyMin()
  }
}

/** Only a minute whose heater is plainly on or off, in still water within its band, tells what is usual. */
function learnRest(
  parts: Parts,
  minute: HeaterMinute,
  given: Readonly<{ atMin: number; lowestC: number | null; highestC: number | null }>
): void {
  const belief = parts.filter?.belief()
  if (belief === undefined) return
  const { water } = parts
  const { atMin, lowestC, highestC } = given
  const isPlain = belief.onFrac < 0.1 || belief.onFrac > 0.9
  if (water.isRunning() || atMin - water.lastMin() <= 30 || !isPlain || belief.restSdK >= 2.5) return
  const isInBand =
    (lowestC === null || belief.waterC > lowestC) && (highestC === null || belief.waterC < highestC)
  parts.rest.learn({
    restC: belief.restC,
    roomC: minute.roomC,
    isQuiet: isInBand && atMin - water.lastSteepMin() > 90
  })
}

/** Heating above the band in a room far colder than ever, or cooling below it in a far warmer one, is a misreading. */
function dropWrongBelief(parts: Parts, filter: HeatFilter, standing: HeaterStanding): void {
  const { belief, atMin, lowestC, highestC } = standing
  const gapK = belief.restC - standing.usualRestC
  const isWrong =
    atMin - standing.movedMin > 60 &&
    standing.power === null &&
    ((belief.onFrac > 0.6 && gapK < -wrongK && highestC !== null && belief.waterC > highestC) ||
      (belief.onFrac < 0.4 && gapK > wrongK && lowestC !== null && belief.waterC < lowestC))
  if (!isWrong) {
    parts.wrongSinceMin = null
    return
  }
  parts.wrongSinceMin ??= atMin
  if (atMin - parts.wrongSinceMin <= wrongMin) return
  filter.assume(belief.onFrac < 0.5)
  parts.wrongSinceMin = null
}

/** An edge that wanders is looked for where it was last. */
const followed = (edgeC: number | null, byK: number): number | null => (edgeC === null ? null : edgeC + byK)
