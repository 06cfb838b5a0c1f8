import type { TankFacts } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { Band } from '../tank/bands.ts'
import { localHour } from '../tank/local-hour.ts'
import { heaterPowerW, type TankProfile } from '../tank/profile.ts'
import type { Quantity } from '../tank/quantity.ts'
import { waterSinceMs } from '../tank/stage.ts'
import { heaterPrior } from '../watch/heater/heater-prior.ts'
import { type HeaterWatch, makeHeaterWatch } from '../watch/heater/heater-watch.ts'
import { type HeaterJudge, type HeaterVerdict, makeHeaterJudge } from '../watch/heater/judge-heater.ts'
import { isMovementDue } from '../watch/heater/movement-due.ts'
import type { Judged } from '../watch/judged.ts'
import type { Channels } from './channels.ts'
import type { HeaterPast, HeaterQuantity } from './heater-past.ts'
import { latestMin, makeLateMinutes } from './late-minutes.ts'
import { lastChangeMs } from './quiet-times.ts'

/**
 * The watch over one tank's heater: hears each minute once, in time order. Where words lately came late it waits for
 * them, up to five minutes, and loses none of their order.
 */
export type HeaterLook = Readonly<{
  /** Judges a minute; null where nothing new is known. Of a tank without heater or water it finds nothing. */
  at: (
    scene: Readonly<{ nowMs: number; facts: TankFacts; channels: Channels; band: Band }>
  ) => HeaterVerdict | null
  /** Goes through a past that nobody judges any more, to learn from it. */
  learn: (past: HeaterPast, given: Past) => void
  /** Mean length of the thermostat's cycle while the water follows it, minutes; else null. */
  cycleMin: () => number | null
  /** Since when the heating cycle says that the water must have moved; null while it need not. */
  movementDueSinceMs: () => number | null
  /** Whether the probe seemed to hang in the air in the minute judged last. */
  probeInAir: () => Judged
}>

type Past = Readonly<{
  facts: TankFacts
  /** The newer past, minute by minute. */
  channels: Channels
  fromMs: number
  toMs: number
}>

/** Hours in which the sun may be on a tank. Common practice, no source. */
const sunHours = { from: 7, to: 20 }

type Heard = Readonly<{ waterC: number | null; roomC: number | null; heaterW: number | null }>

export function makeHeaterLook(): HeaterLook {
  let key = ''
  let prepared: TankProfile | null = null
  let preparedSinceMs: number | null = null
  let watch: HeaterWatch | null = null
  let judge: HeaterJudge = makeHeaterJudge()
  let toldChangeMs: number | null = null
  let toldHeaterMs: number | null = null
  let cycleMin: number | null = null
  let movementDueSinceMs: number | null = null
  let probeInAir: Judged = 'cannot-tell'
  let lastHeardMs: number | null = null
  let lastVerdict: HeaterVerdict | null = null
  let isBehind = false
  const late = makeLateMinutes()
  const used = new Map<Quantity, number[]>()

  /** A tank that was told anew is learned anew: other water, another heater, another setpoint. */
  function prepare({ profile, standings }: TankFacts, atMs: number): void {
    const sinceMs = waterSinceMs(standings, atMs)
    if (profile === prepared && sinceMs === preparedSinceMs) return
    prepared = profile
    preparedSinceMs = sinceMs
    const watts = heaterPowerW(profile)
    const { volumeL, setpointC, roomC, lid } = profile
    const now = JSON.stringify([volumeL, watts, setpointC, roomC, lid, String(sinceMs)])
    if (now === key) return
    key = now
    // What hangs in the air of a dry tank tells nothing of how its water will be warmed.
    const prior = sinceMs === null ? null : heaterPrior({ volumeL, watts, setpointC, roomC, lid })
    watch = prior === null ? null : makeHeaterWatch(prior, watts)
    judge = makeHeaterJudge()
    lastVerdict = null
    cycleMin = null
    movementDueSinceMs = null
    probeInAir = 'cannot-tell'
  }

  function tell(facts: TankFacts, nowMs: number): void {
    const changedMs = lastChangeMs(facts.events, nowMs)
    if (changedMs !== null && changedMs !== toldChangeMs) watch?.toldChange(changedMs)
    toldChangeMs = changedMs
    const heaterMs =
      facts.events.findLast((event) => event.kind === 'heater-changed' && event.atMs <= nowMs)?.atMs ?? null
    if (heaterMs !== null && heaterMs !== toldHeaterMs) watch?.heaterChanged()
    toldHeaterMs = heaterMs
  }

  function hear(heard: Heard, atMs: number, facts: TankFacts, band: Band): HeaterVerdict | null {
    lastHeardMs = atMs
    prepare(facts, atMs)
    if (watch === null) return nothingToFind
    tell(facts, atMs)
    const hour = localHour(atMs, facts.profile.timeZone)
    const standing = watch.take({ ...heard, atMs, sunMayShine: hour >= sunHours.from && hour < sunHours.to })
    cycleMin = standing === null ? null : followed(standing)
    // A probe that stands still is taken out of judgement: what was due before stays due.
    if (standing?.isLive === true)
      movementDueSinceMs = isMovementDue(standing) ? (movementDueSinceMs ?? atMs) : null
    const verdict = judge(standing, band)
    probeInAir = verdict.probeInAir
    return verdict
  }

  /** The mean of what is newly known of the last minutes: most often of the last one. */
  function fresh(channels: Channels, quantity: Quantity, nowMs: number): number | null {
    const channel = channels.voice(quantity, nowMs)
    if (channel === null) return null
    const before = used.get(quantity) ?? []
    const points = channel.minutes
      .between({ fromMs: nowMs - latestMin * minuteMs, toMs: nowMs, fresh: true })
      .filter(({ atMs }) => !before.includes(atMs))
    used.set(
      quantity,
      [...before, ...points.map(({ atMs }) => atMs)].filter((atMs) => atMs > nowMs - latestMin * minuteMs)
    )
    return points.length === 0 ? null : points.reduce((sum, { value }) => sum + value, 0) / points.length
  }

  const heardOf = (channels: Channels, nowMs: number): Heard => ({
    waterC: fresh(channels, 'temperature', nowMs),
    roomC: fresh(channels, 'room-temperature', nowMs),
    heaterW: fresh(channels, 'heater-power', nowMs)
  })

  return {
    at({ nowMs, facts, channels, band }) {
      const behindMin = late.behind(channels.voice('temperature', nowMs), nowMs)
      const toMs = nowMs - behindMin * minuteMs
      const heardMs = lastHeardMs ?? Number.NEGATIVE_INFINITY
      // A clock that was set back begins anew.
      const isHeard = toMs <= heardMs && heardMs - toMs <= latestMin * minuteMs
      const waited = isBehind ? Math.max(heardMs + minuteMs, toMs - latestMin * minuteMs) : toMs
      isBehind = behindMin > 0
      prepare(facts, toMs)
      if (isHeard) return lastVerdict
      for (let atMs = Math.min(waited, toMs); atMs <= toMs; atMs += minuteMs)
        lastVerdict = hear(heardOf(channels, atMs), atMs, facts, band)
      return lastVerdict
    },
    learn(past, { facts, channels, fromMs, toMs }) {
      for (const [atMs, heard] of minutesOf(past, fromMs)) hear(heard, atMs, facts, noBand)
      for (let atMs = fromMs; atMs <= toMs; atMs += minuteMs)
        hear(heardOf(channels, atMs), atMs, facts, noBand)
    },
    cycleMin: () => cycleMin,
    movementDueSinceMs: () => movementDueSinceMs,
    probeInAir: () => probeInAir
  }
}

const nothingToFind: HeaterVerdict = {
  notHeating: null,
  stuckOn: null,
  weak: null,
  cannotDecide: false,
  probeInAir: 'cannot-tell'
}
const noBand: Band = { low: null, high: null, dangerLow: null, dangerHigh: null, reason: 'nothing-known' }

function followed(standing: Parameters<HeaterJudge>[0]): number | null {
  if (standing === null) return null
  const { atMin, belief, lowestC, highestC, periodMin, onSinceMin, offSinceMin } = standing
  const isInBand =
    (lowestC === null || belief.waterC > lowestC) && (highestC === null || belief.waterC < highestC)
  if (periodMin === null || !isInBand) return null
  return atMin - Math.max(onSinceMin, offSinceMin) < 1.5 * periodMin ? periodMin : null
}

/** Every minute of a past from its first one up to a moment, heard or not. */
function* minutesOf(past: HeaterPast, toMs: number): Generator<[number, Heard]> {
  const heard = new Map<number, { -readonly [Key in keyof Heard]: Heard[Key] }>()
  for (const { quantity, atMs, value } of past) {
    const minute = heard.get(atMs) ?? { ...nothing }
    minute[laneOf[quantity]] = value
    heard.set(atMs, minute)
  }
  const firstMs = Math.min(...heard.keys())
  for (let atMs = firstMs; atMs < toMs; atMs += minuteMs) yield [atMs, heard.get(atMs) ?? nothing]
}

const nothing: Heard = { waterC: null, roomC: null, heaterW: null }
const laneOf = {
  temperature: 'waterC',
  'room-temperature': 'roomC',
  'heater-power': 'heaterW'
} as const satisfies Record<HeaterQuantity, keyof Heard>
