import type { Stage } from './alarm-names.ts'
import { isAmmoniaDose } from './ammonia-dose.ts'
import { type CycleProof, cycleProofs } from './cycle-proof.ts'
import type { TankEvent } from './event.ts'
import type { ManualTest } from './manual-test.ts'
import type { TankProfile } from './profile.ts'
import { testValues } from './test-value.ts'

export type Livestock = Readonly<{ speciesId: string; count: number }>

/** What holds for a tank from a moment on, until the next of its kind. Everything that judges asks this first. */
export type Standing = Readonly<{
  fromMs: number
  stage: Stage
  livestock: readonly Livestock[]
  /** True also where the keeper said that fish are in and did not say which. */
  hasFish: boolean
  /** Since when fish have been in without a break; null without fish, or where they were always there. */
  fishSinceMs: number | null
  cycleProven: boolean
}>

/** Fish count as new so long at least. */
const newFishMs = 60 * 86_400_000
const always = Number.NEGATIVE_INFINITY

type Change = Readonly<{ atMs: number; apply: (state: State) => void }>
type State = {
  filled: boolean
  cycling: boolean
  counts: Map<string, number>
  /** Fish the keeper spoke of without naming them. */
  unnamed: boolean
  fishSinceMs: number | null
  /** The keeper said at the start that the tank runs well with these fish. */
  established: boolean
}

/**
 * The stages and the livestock of a tank over time, from what the keeper said at the start, from events and tests.
 *
 * dry -> filled -> fishless-cycling (ammonia dosed, or ammonia or nitrite measured above zero, without fish)
 * -> stocked-new (fish in, until 60 days have passed and the cycle is proven) -> stocked.
 * When the last fish leaves, the tank is `filled` again, or `fishless-cycling` once ammonia shows anew.
 * Answers at least one standing; the first holds from the beginning of time.
 */
export function standingsOf(
  given: Readonly<{
    profile: TankProfile
    tests: readonly ManualTest[]
    events: readonly TankEvent[]
  }>
): readonly Standing[] {
  const { profile, tests } = given
  const events = [...given.events].sort((a, b) => a.atMs - b.atMs)
  const state = startOf(profile)
  const proofs = cycleProofs({ profile, tests, events })
  const changes: Change[] = [
    ...events.map((event) => ({ atMs: event.atMs, apply: (now: State) => applyEvent(now, event) })),
    ...wasteShown(profile, tests).map((atMs) => ({ atMs, apply: markCycling })),
    ...proofs.map(({ atMs }) => ({ atMs, apply: () => undefined }))
  ].sort((a, b) => a.atMs - b.atMs)
  const standings: Standing[] = [standingAt(always, state, proofs)]
  for (const change of changes) {
    // The sixty days end by themselves, between two entries.
    addMaturity(standings, state, proofs, change.atMs)
    change.apply(state)
    push(standings, standingAt(change.atMs, state, proofs))
  }
  addMaturity(standings, state, proofs, Number.POSITIVE_INFINITY)
  return standings
}

/** What held at a moment. */
export function standingAtMs(standings: readonly Standing[], atMs: number): Standing {
  let low = 0
  let high = standings.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((standings[middle] as Standing).fromMs <= atMs) low = middle
    else high = middle - 1
  }
  return standings[low] as Standing
}

/** Since when the stage of a moment has held without a break: an entry that leaves it as it is begins nothing anew. */
export function stageSinceMs(standings: readonly Standing[], atMs: number): number {
  const now = standingAtMs(standings, atMs)
  const before = standings.slice(0, standings.indexOf(now)).findLastIndex(({ stage }) => stage !== now.stage)
  return (standings[before + 1] ?? now).fromMs
}

/** Since when there has been water; null while the tank is dry, the beginning of time where it never was. */
export function waterSinceMs(standings: readonly Standing[], atMs: number): number | null {
  const now = standings.indexOf(standingAtMs(standings, atMs))
  const lastDry = standings.slice(0, now + 1).findLastIndex(({ stage }) => stage === 'dry')
  return lastDry === now ? null : (standings[lastDry + 1] ?? (standings[now] as Standing)).fromMs
}

function startOf(profile: TankProfile): State {
  const named = (profile.species ?? []).filter(({ count }) => count > 0)
  const answer = profile.start?.answer ?? (named.length > 0 ? 'fish-established' : 'filled')
  const withFish = answer === 'fish-new' || answer === 'fish-established'
  // Species of a profile are fish already living there; beside "no fish yet" they are a wish for later.
  const counts = new Map(withFish ? named.map(({ id, count }) => [id, count] as const) : [])
  return {
    filled: answer !== 'dry',
    cycling: false,
    counts,
    unnamed: withFish && counts.size === 0,
    fishSinceMs: answer === 'fish-new' ? (profile.start?.atMs ?? null) : null,
    established: answer === 'fish-established'
  }
}

const hasFish = (state: State): boolean => state.unnamed || state.counts.size > 0

function applyEvent(state: State, event: TankEvent): void {
  const { kind, data, atMs } = event
  if (kind === 'filled') state.filled = true
  else if (isAmmoniaDose(event)) markCycling(state)
  else if (kind === 'fish-added') {
    if (!hasFish(state)) state.fishSinceMs = atMs
    const id = data?.speciesId ?? 'unknown'
    state.counts.set(id, (state.counts.get(id) ?? 0) + (data?.count ?? 1))
    state.filled = true
  } else if (kind === 'fish-removed' || kind === 'fish-died') {
    const had = hasFish(state)
    takeOut(state, data?.speciesId ?? 'unknown', data?.count ?? 1)
    if (!had || hasFish(state)) return
    state.fishSinceMs = null
    state.established = false
    state.cycling = false
  }
}

function takeOut(state: State, id: string, count: number): void {
  const left = (state.counts.get(id) ?? 0) - count
  if (left > 0) state.counts.set(id, left)
  else state.counts.delete(id)
}

function markCycling(state: State): void {
  state.filled = true
  if (!hasFish(state)) state.cycling = true
}

/** Moments at which a kit showed ammonia or nitrite. */
function wasteShown(profile: TankProfile, tests: readonly ManualTest[]): readonly number[] {
  return [...testValues(tests, 'ammonia', profile.kit), ...testValues(tests, 'nitrite', profile.kit)]
    .filter((test) => test.value > 0 && !test.atMost)
    .map((test) => test.atMs)
}

function standingAt(fromMs: number, state: State, proofs: readonly CycleProof[]): Standing {
  const cycleProven = proofs.findLast((proof) => proof.atMs <= fromMs)?.proven ?? false
  const withFish = hasFish(state)
  return {
    fromMs,
    stage: withFish ? fishStage(fromMs, state, cycleProven) : emptyStage(state),
    livestock: [...state.counts].map(([speciesId, count]) => ({ speciesId, count })),
    hasFish: withFish,
    fishSinceMs: withFish ? state.fishSinceMs : null,
    cycleProven
  }
}

function fishStage(fromMs: number, state: State, cycleProven: boolean): Stage {
  if (state.established) return 'stocked'
  const sinceMs = state.fishSinceMs ?? always
  return cycleProven && fromMs - sinceMs >= newFishMs ? 'stocked' : 'stocked-new'
}

function emptyStage(state: State): Stage {
  if (!state.filled) return 'dry'
  return state.cycling ? 'fishless-cycling' : 'filled'
}

function addMaturity(
  standings: Standing[],
  state: State,
  proofs: readonly CycleProof[],
  beforeMs: number
): void {
  const last = standings.at(-1)
  if (last?.stage !== 'stocked-new' || state.fishSinceMs === null) return
  const dueMs = state.fishSinceMs + newFishMs
  if (dueMs > last.fromMs && dueMs < beforeMs) push(standings, standingAt(dueMs, state, proofs))
}

function push(standings: Standing[], next: Standing): void {
  const last = standings.at(-1)
  // A tank that has once been `stocked` does not become new again while its fish stay.
  const stays = last?.stage === 'stocked' && next.stage === 'stocked-new' && next.hasFish
  standings.push(stays ? { ...next, stage: 'stocked' } : next)
}
