import { bindsAmmonia, doseMgLAsN, isAmmoniaDose } from '../tank/ammonia-dose.ts'
import type { TankEvent } from '../tank/event.ts'
import { standingAtMs } from '../tank/stage.ts'
import type { TestValue } from '../tank/test-value.ts'
import { fedMgN, fishMgNPerDay, overTime } from './production.ts'
import { around, type TankFacts, within } from './tank-facts.ts'
import { tapAmmonia } from './tap-water.ts'

/** What is known of a substance at a moment, mg/L as N; null with a named reason where a number would be a guess. */
export type Carried = Readonly<{
  value: number | null
  low: number | null
  high: number | null
  /** True where more than the test itself stands behind the number. */
  estimated: boolean
  /** The moment of the test it rests on. */
  asOfMs: number | null
  reason: string
}>

const hourMs = 3_600_000
const dayMs = 24 * hourMs
/** A test no longer stands for the water after so long: in a tank whose cycle is proven, and in any other. */
export const ammoniaKeepsMs = { proven: 7 * dayMs, unproven: 2 * dayMs } as const
/** A binder holds ammonia for one to two days. Common practice, no source. */
const binderHoldsMs = 2 * dayMs
/** A working filter may take up all that a test showed within a day. Common practice, no source. */
const mayBeGoneAfterMs = dayMs
/** What one feeding brings is worked off by a proven filter within hours. Common practice, no source. */
const fedWorkedOffMs = 12 * hourMs

/**
 * Total ammonia at a moment, carried from the last test by what happened since: a water change thins it and
 * brings the tap's own, a dose adds, feeding and fish widen the upper bound. Between two tests with nothing in
 * between the straight line holds.
 * Units: mg N/L.
 * Valid: up to 2 days after a test (7 in a proven tank); not after a binder or a dose of unknown strength.
 * Source: mass balance of a mixed tank.
 * Exact to: the spans it answers.
 */
export function carriedAmmonia(facts: TankFacts, atMs: number): Carried {
  const { last: base, next } = around(facts.ammonia, atMs)
  if (base === undefined) return cannotTell('no-ammonia-test', null)
  const boundSinceMs = lastBinderMs(facts.events, atMs)
  if (boundSinceMs !== null && base.atMs < boundSinceMs + binderHoldsMs && !isTooOld(facts, base, atMs))
    return cannotTell('bound-cannot-tell', base.atMs)
  const between = next === undefined ? null : interpolated(facts, base, next, atMs)
  if (between !== null) return between
  if (isTooOld(facts, base, atMs)) return cannotTell('too-old', base.atMs)
  return carry(facts, base, atMs)
}

/**
 * Nitrite at a moment, carried from the last test: a water change thins it (tap water is taken to hold none); the
 * ammonia at hand widens the upper bound in an unproven tank.
 * Units: mg N/L.
 * Valid: as `carriedAmmonia`.
 * Source: mass balance of a mixed tank.
 * Exact to: the spans it answers.
 */
export function carriedNitrite(facts: TankFacts, atMs: number): Carried {
  const { last: base, next } = around(facts.nitrite, atMs)
  if (base === undefined) return cannotTell('no-nitrite-test', null)
  const between = next === undefined ? null : interpolated(facts, base, next, atMs)
  if (between !== null) return between
  if (isTooOld(facts, base, atMs)) return cannotTell('too-old', base.atMs)
  let keptFrac = 1
  for (const event of within(facts.events, { fromMs: base.atMs, toMs: atMs }))
    keptFrac *= 1 - changedFraction(event, facts.profile.volumeL)
  const ageMs = atMs - base.atMs
  const proven = standingAtMs(facts.standings, atMs).cycleProven
  const ammonia = proven ? 0 : (around(facts.ammonia, atMs).last?.high ?? 0)
  return {
    value: base.value * keptFrac,
    low: base.low * keptFrac * Math.max(0, 1 - ageMs / mayBeGoneAfterMs),
    high: base.high * keptFrac + ammonia * Math.min(1, ageMs / ammoniaKeepsMs.unproven),
    estimated: ageMs > 0,
    asOfMs: base.atMs,
    reason: keptFrac === 1 ? 'from-test' : 'carried-from-test'
  }
}

const cannotTell = (reason: string, asOfMs: number | null): Carried => ({
  value: null,
  low: null,
  high: null,
  estimated: false,
  asOfMs,
  reason
})

const keepsMs = (facts: TankFacts, atMs: number): number =>
  standingAtMs(facts.standings, atMs).cycleProven ? ammoniaKeepsMs.proven : ammoniaKeepsMs.unproven
const isTooOld = (facts: TankFacts, base: TestValue, atMs: number): boolean =>
  atMs - base.atMs > keepsMs(facts, atMs)

const isBinder = (event: TankEvent): boolean =>
  ((event.kind === 'conditioner-added' || event.kind === 'dosed') && bindsAmmonia(event.data?.substance)) ||
  (event.kind === 'water-changed' && bindsAmmonia(event.data?.conditioner))

function lastBinderMs(events: readonly TankEvent[], atMs: number): number | null {
  return events.findLast((event) => event.atMs <= atMs && isBinder(event))?.atMs ?? null
}

/** Which share of the water an event replaced. */
export function changedFraction(event: TankEvent, volumeL: number): number {
  if (event.kind !== 'water-changed') return 0
  const { fraction, litres } = event.data ?? {}
  return Math.min(1, fraction ?? (litres ?? 0) / volumeL)
}

const moves = (event: TankEvent): boolean =>
  event.kind === 'water-changed' ||
  event.kind === 'topped-up' ||
  event.kind === 'fed' ||
  event.kind === 'fish-added' ||
  isAmmoniaDose(event) ||
  isBinder(event)

function interpolated(facts: TankFacts, base: TestValue, next: TestValue, atMs: number): Carried | null {
  const spanMs = next.atMs - base.atMs
  if (spanMs <= 0 || spanMs > 2 * keepsMs(facts, next.atMs)) return null
  if (within(facts.events, { fromMs: base.atMs, toMs: next.atMs }).some(moves)) return null
  const share = (atMs - base.atMs) / spanMs
  const line = (from: number, to: number): number => from + (to - from) * share
  return {
    value: line(base.value, next.value),
    low: line(base.low, next.low),
    high: line(base.high, next.high),
    estimated: share > 0,
    asOfMs: base.atMs,
    reason: share > 0 ? 'between-two-tests' : 'from-test'
  }
}

type Balance = { value: number; low: number; high: number; byFish: number; byFeed: number }

function carry(facts: TankFacts, base: TestValue, atMs: number): Carried {
  const { profile, standings } = facts
  const { cycleProven } = standingAtMs(standings, atMs)
  const balance: Balance = { value: base.value, low: base.low, high: base.high, byFish: 0, byFeed: 0 }
  let lastSureMs = base.atMs
  let clockMs = base.atMs
  let newFishPerDay = 0
  const events = within(facts.events, { fromMs: base.atMs, toMs: atMs }).filter(moves)
  const live = (untilMs: number): void => {
    const perDay = cycleProven ? newFishPerDay : fishMgNPerDay(standingAtMs(standings, clockMs).livestock)
    balance.byFish += overTime(perDay, untilMs - clockMs) / profile.volumeL
    clockMs = untilMs
  }
  for (const event of events) {
    live(event.atMs)
    if (isAmmoniaDose(event)) {
      const added = doseMgLAsN(event, profile)
      if (added === null) return cannotTell('dose-of-unknown-strength', base.atMs)
      balance.value += added
      balance.low += added
      balance.high += added
      lastSureMs = event.atMs
    } else if (event.kind === 'fed') feed(balance, event, { profile, cycleProven, ageMs: atMs - event.atMs })
    else if (event.kind === 'fish-added')
      newFishPerDay += fishMgNPerDay([
        { speciesId: event.data?.speciesId ?? 'unknown', count: event.data?.count ?? 1 }
      ])
    else exchange(balance, event, profile)
  }
  live(atMs)
  const faded = Math.max(0, 1 - (atMs - lastSureMs) / mayBeGoneAfterMs)
  return {
    value: balance.value,
    low: balance.low * faded,
    // What fish give off is what they were fed: the same nitrogen does not count twice.
    high: balance.high + Math.max(balance.byFish, balance.byFeed),
    estimated: atMs > base.atMs,
    asOfMs: base.atMs,
    reason: events.length > 0 ? 'carried-from-test' : 'from-test'
  }
}

function feed(
  balance: Balance,
  event: TankEvent,
  {
    profile,
    cycleProven,
    ageMs
  }: Readonly<{ profile: TankFacts['profile']; cycleProven: boolean; ageMs: number }>
): void {
  const { most, expected } = fedMgN(event)
  const mgN = cycleProven ? expected * Math.max(0, 1 - ageMs / fedWorkedOffMs) : most
  balance.byFeed += mgN / profile.volumeL
}

function exchange(balance: Balance, event: TankEvent, profile: TankFacts['profile']): void {
  const tap = tapAmmonia(profile.tap)
  if (event.kind === 'topped-up') {
    // Evaporation leaves the ammonia behind; the fresh water brings its own.
    const share = (event.data?.litres ?? 0) / profile.volumeL
    balance.value += share * tap.value
    balance.low += share * tap.low
    balance.high += share * tap.high
    return
  }
  const share = changedFraction(event, profile.volumeL)
  const mixed = (tank: number, fresh: number): number => tank * (1 - share) + fresh * share
  balance.value = mixed(balance.value, tap.value)
  balance.low = mixed(balance.low, tap.low)
  balance.high = mixed(balance.high, tap.high)
  balance.byFish *= 1 - share
  balance.byFeed *= 1 - share
}
