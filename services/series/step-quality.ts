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
  const tests = ownTests(reading.value, limits, context)
  const { value } = reading
  if (state.newestAtMs !== null && reading.atMs <= state.newestAtMs) return answer(state, tests)
  if (value === null || tests['sensor-fault-code'] === 4 || tests['gross-range'] > 3)
    return answer({ ...state, newestAtMs: reading.atMs }, tests)

  const point = { atMs: reading.atMs, value }
  const keepMs = Math.max(leastKeptMs, limits.flatLine?.failMs ?? 0, limits.attenuated?.windowMs ?? 0)
  const minutes = addToMinutes(state.minutes, point)
  const blocks = addToBlocks(state.blocks, point, { blockMs, keepMs: keepMs + blockMs })
  addMovingTests(tests, { nowMs: reading.atMs, minutes, blocks }, limits, context)
  const { flag, why } = verdictOf(tests)
  const newest: Judged = { atMs: reading.atMs, value, flag, why }
  const previousFlag = laterJudgement(state, point, limits.spike)
  const before = state.newest === null ? null : { ...state.newest, ...previousFlag }
  const next: QualityState = { newestAtMs: reading.atMs, before, newest, minutes, blocks }
  return previousFlag === null ? { next, flag, why, tests } : { next, flag, why, tests, previousFlag }
}

type Flags = Record<QualityTest, QualityFlag>

/** A flag for every test, those that need what came before as not applied. One object a reading: there are many. */
function ownTests(value: number | null, limits: TestLimits, context: QualityContext): Flags {
  const isCode = value !== null && isFaultCode(value, limits.faultCodes)
  return {
    'sensor-fault-code': limits.faultCodes === undefined ? 2 : value === null ? 9 : isCode ? 4 : 1,
    'gross-range': flagGrossRange(value, limits),
    'flat-line': 2,
    spike: 2,
    'rate-of-change': 2,
    climatology: flagClimatology(value, context.band ?? null),
    'attenuated-signal': 2,
    neighbour: 2
  }
}

/** Fills in the tests of a reading among those before it. */
function addMovingTests(
  flags: Flags,
  seen: Readonly<{ nowMs: number; minutes: MinuteMedians; blocks: SpanBlocks }>,
  limits: TestLimits,
  context: QualityContext
): void {
  const { flatLine, rate, attenuated, neighbour } = limits
  const perHour =
    rate === undefined && neighbour === undefined ? null : rateOverMediansPerHour(minutesOf(seen.minutes))
  const { nowMs, blocks } = seen
  const { movementDueSinceMs, neighbourPerHour } = context
  if (flatLine)
    flags['flat-line'] = flagFlatRun({ run: flatRun(blocks, flatLine), nowMs, movementDueSinceMs }, flatLine)
  if (rate) flags['rate-of-change'] = flagRate(perHour, rate)
  if (attenuated) flags['attenuated-signal'] = flagAttenuatedNow(blocks, attenuated)
  if (neighbour)
    flags.neighbour = flagNeighbour(
      { ownPerHour: perHour, neighbourPerHour: neighbourPerHour ?? null },
      neighbour
    )
}

const deciding: readonly QualityTest[] = ['sensor-fault-code', 'gross-range', 'flat-line', 'rate-of-change']

function answer(next: QualityState, tests: Readonly<Flags>): QualityAnswer {
  const { flag, why } = verdictOf(tests)
  return { next, flag, why, tests }
}

function verdictOf(tests: Readonly<Flags>): Readonly<{ flag: QualityFlag; why: QualityTest | null }> {
  const flag = rollUpFlags(deciding.map((test) => tests[test]))
  const isBad = flag === 3 || flag === 4
  return { flag, why: isBad ? (deciding.find((test) => tests[test] === flag) ?? null) : null }
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
