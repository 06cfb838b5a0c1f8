import { type AttenuatedLimits, flagAttenuatedNow } from './attenuated-signal.ts'
import { flagClimatology } from './climatology.ts'
import { flagFlatRun, flatRun } from './flat-line.ts'
import { flagGrossRange, isFaultCode, type Span } from './gross-range.ts'
import { addToMinutes, type MinuteMedians, minutesOf, noMinutes } from './minute-medians.ts'
import { flagNeighbour } from './neighbour.ts'
import { flagRate, rateOverMediansPerHour } from './rate-of-change.ts'
import { type QualityFlag, rollUpFlags } from './roll-up.ts'
import { addToBlocks, noBlocks, type SpanBlocks } from './span-blocks.ts'
import { flagSpike, type SpikeLimits } from './spike.ts'

/** What each test of a channel goes by; a test whose limits are absent is not applied. */
export type TestLimits = Readonly<{
  fail: Span
  suspect?: Span | undefined
  faultCodes?: readonly number[] | undefined
  spike?: SpikeLimits | undefined
  rate?: Readonly<{ suspectPerHour: number; failPerHour?: number | undefined }> | undefined
  flatLine?: FlatLineLimits | undefined
  attenuated?: AttenuatedLimits | undefined
  neighbour?: Readonly<{ ownPerHour: number; neighbourPerHour: number }> | undefined
}>
export type FlatLineLimits = Readonly<{
  tolerance: number
  suspectMs: number
  failMs: number
  /** How long it may stand still where the water must have moved. */
  movementDueMs?: number | undefined
  mostGapMs: number
}>

/** In the order in which they explain a flag. */
export const qualityTests = [
  'sensor-fault-code',
  'gross-range',
  'flat-line',
  'spike',
  'rate-of-change',
  'climatology',
  'attenuated-signal',
  'neighbour'
] as const
export type QualityTest = (typeof qualityTests)[number]

/** What is remembered of a channel between two readings. Plain data: a restart can find it again. */
export type QualityState = Readonly<{
  newestAtMs: number | null
  /** The last two readings that passed the gross range; the newest one still waits for its spike test. */
  before: Judged | null
  newest: Judged | null
  minutes: MinuteMedians
  blocks: SpanBlocks
}>
type Judged = Readonly<{ atMs: number; value: number; flag: QualityFlag; why: QualityTest | null }>

export const freshQuality: QualityState = {
  newestAtMs: null,
  before: null,
  newest: null,
  minutes: noMinutes,
  blocks: noBlocks
}

export type QualityReading = Readonly<{ atMs: number; value: number | null }>
/** What is known beside the channel itself. */
export type QualityContext = Readonly<{
  band?: Span | null | undefined
  neighbourPerHour?: number | null | undefined
  /** Since when the heating cycle says that the water must have moved; null while it need not. */
  movementDueSinceMs?: number | null | undefined
}>

export type QualityAnswer = Readonly<{
  next: QualityState
  flag: QualityFlag
  /** The test that gave a 3 or a 4; null otherwise. */
  why: QualityTest | null
  /** Of every test; those for information only never reach `flag`. */
  tests: Readonly<Record<QualityTest, QualityFlag>>
  /** The later judgement of the reading before, where its spike test changed its flag. */
  previousFlag?: LaterFlag
}>
type LaterFlag = Readonly<{ atMs: number; flag: QualityFlag; why: QualityTest }>

/** Longer apart than this, two readings say nothing about each other's shape. */
const farApartMs = 15 * 60_000
const blockMs = 5 * 60_000
const leastKeptMs = 12 * 3_600_000

/**
 * The real-time tests on one more reading of a channel. Fault code, gross range, flat line, spike and rate decide
 * the flag; learned band, attenuated signal and neighbour are answered beside it, because what is merely unusual
 * must stay in judgement. The spike test can only judge the reading before the newest one.
 * Units: those of the limits; milliseconds.
 * Valid: readings in time order; an older one than the newest gets the tests that need no neighbours, and changes
 *   nothing that is remembered.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), tests 4 to 11.
 * Exact to: as the single tests.
 */
export function stepQuality(
  state: QualityState,
  reading: QualityReading,
  limits: TestLimits,
  context: QualityContext = {}
): QualityAnswer {
  const own = ownTests(reading.value, limits, context)
  const { value } = reading
  if (state.newestAtMs !== null && reading.atMs <= state.newestAtMs) return answer(state, own)
  const seen = { ...state, newestAtMs: reading.atMs }
  if (value === null || own['sensor-fault-code'] === 4 || own['gross-range'] > 3) return answer(seen, own)

  const point = { atMs: reading.atMs, value }
  const keepMs = Math.max(leastKeptMs, limits.flatLine?.failMs ?? 0, limits.attenuated?.windowMs ?? 0)
  const minutes = addToMinutes(state.minutes, point)
  const blocks = addToBlocks(state.blocks, point, { blockMs, keepMs: keepMs + blockMs })
  const tests = { ...own, ...movingTests({ nowMs: reading.atMs, minutes, blocks }, limits, context) }
  const given = answer({ ...seen, minutes, blocks }, tests)
  const newest: Judged = { ...point, flag: given.flag, why: given.why }
  const previousFlag = laterJudgement(state, point, limits.spike)
  const before = state.newest === null ? null : { ...state.newest, ...previousFlag }
  const next: QualityState = { ...given.next, before, newest }
  return previousFlag === null ? { ...given, next } : { ...given, next, previousFlag }
}

const notApplied: Readonly<Record<QualityTest, QualityFlag>> = {
  'sensor-fault-code': 2,
  'gross-range': 2,
  'flat-line': 2,
  spike: 2,
  'rate-of-change': 2,
  climatology: 2,
  'attenuated-signal': 2,
  neighbour: 2
}

function ownTests(value: number | null, limits: TestLimits, context: QualityContext): typeof notApplied {
  const isCode = value !== null && isFaultCode(value, limits.faultCodes)
  return {
    ...notApplied,
    'sensor-fault-code': limits.faultCodes === undefined ? 2 : value === null ? 9 : isCode ? 4 : 1,
    'gross-range': flagGrossRange(value, limits),
    climatology: flagClimatology(value, context.band ?? null)
  }
}

function movingTests(
  seen: Readonly<{ nowMs: number; minutes: MinuteMedians; blocks: SpanBlocks }>,
  limits: TestLimits,
  context: QualityContext
): Partial<Record<QualityTest, QualityFlag>> {
  const { flatLine, rate, attenuated, neighbour } = limits
  const perHour =
    rate === undefined && neighbour === undefined ? null : rateOverMediansPerHour(minutesOf(seen.minutes))
  const { nowMs, blocks } = seen
  const { movementDueSinceMs, neighbourPerHour } = context
  return {
    ...(flatLine && {
      'flat-line': flagFlatRun({ run: flatRun(blocks, flatLine), nowMs, movementDueSinceMs }, flatLine)
    }),
    ...(rate && { 'rate-of-change': flagRate(perHour, rate) }),
    ...(attenuated && { 'attenuated-signal': flagAttenuatedNow(blocks, attenuated) }),
    ...(neighbour && {
      neighbour: flagNeighbour({ ownPerHour: perHour, neighbourPerHour: neighbourPerHour ?? null }, neighbour)
    })
  }
}

const deciding: readonly QualityTest[] = ['sensor-fault-code', 'gross-range', 'flat-line', 'rate-of-change']

function answer(next: QualityState, tests: Readonly<Record<QualityTest, QualityFlag>>): QualityAnswer {
  const flag = rollUpFlags(deciding.map((test) => tests[test]))
  const isBad = flag === 3 || flag === 4
  return { next, flag, why: isBad ? (deciding.find((test) => tests[test] === flag) ?? null) : null, tests }
}

/** The spike test of the reading before, now that its successor is known. */
function laterJudgement(
  state: QualityState,
  after: Readonly<{ atMs: number; value: number }>,
  limits: SpikeLimits | undefined
): LaterFlag | null {
  const { before, newest } = state
  if (limits === undefined || before === null || newest === null) return null
  if (newest.atMs - before.atMs > farApartMs || after.atMs - newest.atMs > farApartMs) return null
  const spike = flagSpike({ before: before.value, value: newest.value, after: after.value }, limits)
  const flag = rollUpFlags([newest.flag, spike])
  return flag === newest.flag ? null : { atMs: newest.atMs, flag, why: 'spike' }
}
