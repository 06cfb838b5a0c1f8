import type { Band, NowView, ReadingNow, TestNow } from '../../services/contract/now-view.ts'
import { nitriteFromN } from '../../services/water/conversions.ts'

/** The lanes of the wall, in the order in which they kill. */
export const laneNames = ['temperature', 'ph', 'nh3', 'nitrite'] as const
export type LaneName = (typeof laneNames)[number]

/** What one lane says, in facts. Words are found in words/. */
export type LaneFacts = Readonly<{
  lane: LaneName
  /** Where the present value comes from; `none` where nothing is known at all, `unknown` where it cannot be told now. */
  source: 'probe' | 'derived' | 'test' | 'unknown' | 'none'
  value: number | null
  low: number | null
  high: number | null
  /** The value carries a doubt worth drawing. */
  about: boolean
  unit: string
  basis: string | null
  atMs: number | null
  stale: boolean
  lastKnown: boolean
  /** What the newest reading is worth where it did not pass. */
  doubt: 'suspect' | 'failed' | null
  /** Another probe leads, but this one speaks for it. */
  standIn: string | null
  /** The house itself has not been heard: everything on the page is old. */
  houseSilent: boolean
  trendPerHour: number | null
  direction: 'up' | 'down' | 'steady' | null
  band: LaneBand
  place: 'inside' | 'above' | 'below' | 'none'
  /** Hours until the edge at this trend; null where it leads nowhere near. */
  hoursToEdge: number | null
  edge: number | null
  reason: string
}>
export type LaneBand = Readonly<{
  low: number | null
  high: number | null
  dangerLow: number | null
  dangerHigh: number | null
}>

/** The same lane once the house has fallen silent: nothing of it is the present any more. */
export const grownOld = (facts: LaneFacts): LaneFacts => ({
  ...facts,
  stale: true,
  houseSilent: true,
  trendPerHour: null,
  direction: null,
  hoursToEdge: null,
  edge: null
})

const openBand: LaneBand = { low: null, high: null, dangerLow: null, dangerHigh: null }
/** Slower than this counts as steady: less than the noise of common probes over an hour. Common practice, no source. */
const steadyPerHour: Readonly<Record<LaneName, number>> = {
  temperature: 0.08,
  ph: 0.02,
  nh3: 0.0008,
  nitrite: 0
}
/** How far ahead a straight line may be drawn: pH and temperature swing with the day. Common practice, no source. */
const furthestHours: Readonly<Record<LaneName, number>> = { temperature: 24, ph: 12, nh3: 48, nitrite: 0 }
const hourMs = 3_600_000

/** Reads one lane out of the present state of a tank. */
export function laneFacts(lane: LaneName, now: NowView, nowMs: number): LaneFacts {
  const band = bandOf(lane, now)
  if (lane === 'nh3') return derivedFacts(now, band)
  const reading = now.readings[lane]
  const test = now.tests[lane]
  if (reading !== undefined && !(isOld(reading, nowMs) && test !== undefined && test.atMs > reading.atMs))
    return probeFacts(lane, reading, band, nowMs)
  if (test !== undefined) return testFacts(lane, test, band)
  return { ...nothing(lane, band), source: 'none', reason: 'no-source' }
}

const nothing = (lane: LaneName, band: LaneBand): LaneFacts => ({
  lane,
  source: 'unknown',
  value: null,
  low: null,
  high: null,
  about: false,
  unit: '',
  basis: null,
  atMs: null,
  stale: false,
  lastKnown: false,
  doubt: null,
  standIn: null,
  houseSilent: false,
  trendPerHour: null,
  direction: null,
  band,
  place: 'none',
  hoursToEdge: null,
  edge: null,
  reason: ''
})

const bandKeys: Readonly<Record<LaneName, readonly string[]>> = {
  temperature: ['temperature'],
  ph: ['ph'],
  nh3: ['nh3', 'nh3MgL'],
  nitrite: ['nitrite']
}
function bandOf(lane: LaneName, now: NowView): LaneBand {
  // Without fish, ammonia and nitrite are progress: nothing to stay below.
  if ((lane === 'nh3' || lane === 'nitrite') && now.livestock.every((fish) => fish.count === 0))
    return openBand
  const found: Band | undefined = bandKeys[lane]
    .map((key) => now.bands[key])
    .find((band) => band !== undefined)
  if (found === undefined) return openBand
  const { low, high, dangerLow, dangerHigh } = found
  if (lane !== 'nitrite') return { low, high, dangerLow, dangerHigh }
  const basis = now.tests.nitrite?.basis === 'NO2' ? 'NO2' : 'N'
  const shown = (value: number | null): number | null =>
    value === null ? null : nitriteFromN({ nitriteMgLAsN: value, basis })
  return { low: shown(low), high: shown(high), dangerLow: shown(dangerLow), dangerHigh: shown(dangerHigh) }
}

/** How long a probe of which nobody knows the beat may be quiet: as the house reckons it. */
const unknownBeatMs = 300_000
/** A probe that has missed three of its own beats, and at least two minutes, is silent. */
export function isOld(reading: ReadingNow, nowMs: number): boolean {
  const beatMs = reading.everyMs ?? unknownBeatMs
  return reading.stale || nowMs - reading.atMs > Math.max(3 * beatMs, 120_000)
}

function probeFacts(lane: LaneName, reading: ReadingNow, band: LaneBand, nowMs: number): LaneFacts {
  const stale = isOld(reading, nowMs) || reading.lastKnown
  const trendPerHour = stale ? null : reading.trendPerHour
  return {
    ...nothing(lane, band),
    source: 'probe',
    value: reading.value,
    unit: reading.unit,
    atMs: reading.atMs,
    stale,
    lastKnown: reading.lastKnown,
    doubt: reading.flag === 3 ? 'suspect' : reading.flag === 4 ? 'failed' : null,
    standIn: reading.standIn === true ? reading.probe : null,
    trendPerHour,
    direction: directionOf(lane, trendPerHour),
    place: placeOf(reading.value, band),
    ...edgeAhead(lane, reading.value, trendPerHour, band),
    reason: 'probe'
  }
}

function testFacts(lane: LaneName, test: TestNow, band: LaneBand): LaneFacts {
  const value = lane === 'nitrite' ? test.value : test.canonicalValue
  return {
    ...nothing(lane, band),
    source: 'test',
    value,
    low: test.atMost === true ? 0 : value,
    high: value,
    unit: test.unit,
    basis: test.basis ?? null,
    atMs: test.atMs,
    place: placeOf(value, band),
    reason: test.atLeast === true ? 'at-least' : test.atMost === true ? 'at-most' : 'test'
  }
}

function derivedFacts(now: NowView, band: LaneBand): LaneFacts {
  const derived = now.derived.nh3MgL
  const noTest = now.tests.ammonia === undefined
  if (derived.value === null)
    return {
      ...nothing('nh3', band),
      source: noTest ? 'none' : 'unknown',
      atMs: derived.asOfMs,
      reason: derived.reason
    }
  return {
    ...nothing('nh3', band),
    source: 'derived',
    value: derived.value,
    low: derived.low,
    high: derived.high,
    about: derived.estimated || (derived.low !== null && derived.high !== null && derived.high > derived.low),
    unit: 'mg/L NH₃',
    atMs: derived.asOfMs,
    trendPerHour: derived.trendPerHour,
    direction: directionOf('nh3', derived.trendPerHour),
    place: placeOf(derived.value, band),
    ...edgeAhead('nh3', derived.value, derived.trendPerHour, band),
    reason: derived.reason
  }
}

function placeOf(value: number, band: LaneBand): LaneFacts['place'] {
  if (band.low === null && band.high === null) return 'none'
  if (band.high !== null && value > band.high) return 'above'
  if (band.low !== null && value < band.low) return 'below'
  return 'inside'
}

function directionOf(lane: LaneName, trendPerHour: number | null): LaneFacts['direction'] {
  if (trendPerHour === null) return null
  if (Math.abs(trendPerHour) <= steadyPerHour[lane]) return 'steady'
  return trendPerHour > 0 ? 'up' : 'down'
}

function edgeAhead(
  lane: LaneName,
  value: number,
  trendPerHour: number | null,
  band: LaneBand
): Readonly<{ hoursToEdge: number | null; edge: number | null }> {
  const none = { hoursToEdge: null, edge: null }
  if (trendPerHour === null || directionOf(lane, trendPerHour) === 'steady') return none
  const edges = trendPerHour > 0 ? [band.high, band.dangerHigh] : [band.low, band.dangerLow]
  const edge = edges.find((limit) => limit !== null && (limit - value) * trendPerHour > 0)
  if (edge === undefined || edge === null) return none
  const hoursToEdge = (edge - value) / trendPerHour
  return hoursToEdge <= furthestHours[lane] ? { hoursToEdge, edge } : none
}

/** The moment at which the stretch on the wall begins. */
export const laneFromMs = (nowMs: number): number => nowMs - 24 * hourMs
