import { co2At } from '../cycle/carbon-dioxide.ts'
import { type ProbeValue, probeServesMs } from '../cycle/sourced.ts'
import type { TankFacts } from '../cycle/tank-facts.ts'
import { type Derived, nh3At, type ProbesAt } from '../cycle/toxic-ammonia.ts'
import { minuteMs } from '../series/minutes.ts'
import { qualityLimits } from '../tank/quality-limits.ts'
import type { DerivedQuantity, Quantity } from '../tank/quantity.ts'
import type { DerivedPoint } from '../tank/record.ts'
import type { Channel, Channels } from './channels.ts'
import { maintenanceUntilMs } from './quiet-times.ts'

export type DerivedNow = Readonly<Record<DerivedQuantity, Derived>>
export type DerivedSeries = Readonly<Record<DerivedQuantity, DerivedPoint[]>>

/** What can be computed at a moment. A median of five keeps a single wild pH reading out of it. */
export const deriveAt = (facts: TankFacts, channels: Channels, atMs: number): DerivedNow =>
  derive(facts, channels, { atMs, lastWord: lastOfAll })

/** The same as it was computed when that moment was now: a probe that has spoken since was silent then. */
export const deriveAsThen = (facts: TankFacts, channels: Channels, atMs: number): DerivedNow =>
  derive(facts, channels, { atMs, lastWord: lastOfThen })

type LastWord = (channel: Channel, atMs: number) => ProbeValue | null
type Moment = Readonly<{ atMs: number; lastWord: LastWord }>

function derive(facts: TankFacts, channels: Channels, moment: Moment): DerivedNow {
  const { atMs } = moment
  const probes: ProbesAt = {
    atMs,
    tempC: probeValue(channels, 'temperature', moment),
    pH: outOfTheCup(facts, channels, probeValue(channels, 'ph', moment), atMs)
  }
  return { nh3: nh3At(facts, probes), co2: co2At(facts, probes) }
}

function lastOfAll(channel: Channel, atMs: number): ProbeValue | null {
  const last = channel.lastGood()
  return last !== null && last.atMs <= atMs ? last : null
}

const lastOfThen: LastWord = (channel, atMs) =>
  lastOfAll(channel, atMs) ??
  channel.minutes.between({ fromMs: atMs - probeServesMs - 1, toMs: atMs }).at(-1) ??
  null

function probeValue(channels: Channels, quantity: Quantity, { atMs, lastWord }: Moment): ProbeValue | null {
  const channel = channels.voice(quantity, atMs)
  if (channel === null) return null
  const newestMs = channel.minutes.newestFreshMs(atMs)
  const value = channel.minutes.recentMedian({ toMs: atMs, count: 5, withinMs: 15 * minuteMs })
  if (newestMs !== null && value !== null) return { value, atMs: newestMs }
  const backfilled = channel.minutes.between({ fromMs: atMs - 15 * minuteMs, toMs: atMs }).at(-1)
  if (backfilled !== undefined) return backfilled
  return lastWord(channel, atMs)
}

/** A calibration takes longer than its cups: so far back the water itself was last heard. */
const longestCalibrationMs = 120 * minuteMs
const waterLike = qualityLimits.ph.suspect ?? qualityLimits.ph.fail

/**
 * While hands are in the tank, a pH that no water with fish has is that of a buffer in a cup: the water is then as
 * it was when it was last heard.
 */
function outOfTheCup(
  facts: TankFacts,
  channels: Channels,
  heard: ProbeValue | null,
  atMs: number
): ProbeValue | null {
  if (heard === null || isWaterLike(heard.value)) return heard
  if (maintenanceUntilMs(facts.events, atMs) === null) return heard
  const minutes = channels
    .voice('ph', atMs)
    ?.minutes.between({ fromMs: atMs - longestCalibrationMs, toMs: atMs })
  return minutes?.findLast((minute) => isWaterLike(minute.value)) ?? null
}

const isWaterLike = (pH: number): boolean => pH >= waterLike[0] && pH <= waterLike[1]

/** Toxic ammonia at the moment of a test, with the pH of then; null where no pH was known then. */
export function nh3AtTest(
  facts: TankFacts,
  channels: Channels,
  testMs: number
): Readonly<{ nh3MgL: number; pH: number }> | null {
  const { nh3 } = deriveAt(facts, channels, testMs)
  const pH = nh3.from.pH
  return nh3.value === null || typeof pH !== 'number' ? null : { nh3MgL: nh3.value, pH }
}

/** Change of toxic ammonia over the last hour, mg NH3/L an hour; null where an end of it is not known. */
export function nh3TrendAt(
  facts: TankFacts,
  channels: Channels,
  now: Readonly<{ atMs: number; value: number | null }>
): number | null {
  if (now.value === null) return null
  const before = deriveAt(facts, channels, now.atMs - 60 * minuteMs).nh3.value
  return before === null ? null : now.value - before
}

export const emptySeries = (): DerivedSeries => ({ nh3: [], co2: [] })

/** Adds what was computed at a moment to its series; what cannot be known leaves a gap. */
export function addPoints(series: DerivedSeries, derived: DerivedNow, atMs: number): void {
  for (const quantity of ['nh3', 'co2'] as const) {
    const { value, low, high } = derived[quantity]
    if (value !== null) series[quantity].push({ atMs, value, low: low ?? value, high: high ?? value })
  }
}

/**
 * Computes a stretch of the past anew, minute by minute, from readings already gathered in `channels`: where a probe
 * was silent, by its last word of then, as it was computed at the time.
 */
export function deriveStretch(
  facts: TankFacts,
  channels: Channels,
  span: Readonly<{ fromMs: number; toMs: number }>
): DerivedSeries {
  const series = emptySeries()
  const first = Math.ceil(span.fromMs / minuteMs) * minuteMs
  for (let atMs = first; atMs <= span.toMs; atMs += minuteMs)
    addPoints(series, deriveAsThen(facts, channels, atMs), atMs)
  return series
}
