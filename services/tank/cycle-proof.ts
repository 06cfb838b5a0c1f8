import { isAmmoniaDose } from './ammonia-dose.ts'
import type { TankEvent } from './event.ts'
import type { ManualTest } from './manual-test.ts'
import type { TankProfile } from './profile.ts'
import { type TestValue, testValues } from './test-value.ts'

/** From `atMs` on the filter is known to work (or no longer known to). */
export type CycleProof = Readonly<{ atMs: number; proven: boolean; because: string }>

const dayMs = 86_400_000
/** A kit shows "nothing" up to here, mg N/L. Common practice, no source. */
const clearAmmoniaMgLAsN = 0.1
const clearNitriteMgLAsN = 0.05
/** From here on waste shows that a filter no longer keeps up; a single first step of a kit may be a misreading. */
const strongAmmoniaMgLAsN = 0.5
const strongNitriteMgLAsN = 0.15
/** A working filter clears a full dose overnight; a test later than this no longer speaks of that dose. */
const doseClearedMs = { from: 18 * 3_600_000, to: 36 * 3_600_000 }
/** With fish in: so many clear tests over so long a time, with none that showed anything between. */
const clearSpanMs = 14 * dayMs
const clearTests = 3

/**
 * When the cycle was proven, and when that was lost again.
 *
 * Proven: the keeper said that the tank runs well with fish; or, without fish, ammonia and nitrite both read
 * nothing 18 to 36 h after an ammonia dose, two doses running; or, with fish, at least three tests over at least
 * 14 days read nothing of either and none in between showed any.
 * Lost: a test shows 0.5 mg N/L of ammonia or 0.15 of nitrite, or the filter media were replaced.
 * Source: nothing 24 h after the full dose, twice, is common practice; the rest is our own choice.
 */
export function cycleProofs(
  given: Readonly<{ profile: TankProfile; tests: readonly ManualTest[]; events: readonly TankEvent[] }>
): readonly CycleProof[] {
  const { profile, tests, events } = given
  const proofs: CycleProof[] = []
  const established =
    profile.start?.answer === 'fish-established' ||
    (profile.start === undefined && (profile.species ?? []).some(({ count }) => count > 0))
  if (established)
    proofs.push({ atMs: Number.NEGATIVE_INFINITY, proven: true, because: 'keeper-said-established' })
  let proven = established
  let run: readonly number[] = []
  let clearedDoses = 0
  let lastDoseMs: number | null = null
  const set = (atMs: number, next: boolean, because: string): void => {
    if (proven !== next) proofs.push({ atMs, proven: next, because })
    proven = next
  }
  for (const entry of inOrder(profile, tests, events)) {
    if (entry.kind === 'dose') {
      lastDoseMs = entry.atMs
      run = []
    } else if (entry.kind === 'media-replaced') {
      run = []
      clearedDoses = 0
      set(entry.atMs, false, 'filter-media-replaced')
    } else if (!entry.clear) {
      run = []
      // While a dose is being worked off, ammonia in the test is expected.
      if (lastDoseMs !== null && entry.atMs - lastDoseMs < doseClearedMs.from) continue
      clearedDoses = 0
      if (entry.strong) set(entry.atMs, false, 'waste-shown-again')
    } else {
      run = [...run, entry.atMs]
      const sinceDoseMs = lastDoseMs === null ? null : entry.atMs - lastDoseMs
      if (sinceDoseMs !== null && sinceDoseMs >= doseClearedMs.from) {
        clearedDoses = sinceDoseMs <= doseClearedMs.to ? clearedDoses + 1 : clearedDoses
        lastDoseMs = null
      }
      if (clearedDoses >= 2) set(entry.atMs, true, 'two-doses-cleared')
      const spanMs = entry.atMs - (run[0] ?? entry.atMs)
      if (entry.withFish && run.length >= clearTests && spanMs >= clearSpanMs)
        set(entry.atMs, true, 'clear-for-two-weeks')
    }
  }
  return proofs
}

type Entry =
  | Readonly<{ kind: 'dose'; atMs: number }>
  | Readonly<{ kind: 'media-replaced'; atMs: number }>
  | Readonly<{ kind: 'test'; atMs: number; clear: boolean; strong: boolean; withFish: boolean }>

function inOrder(
  profile: TankProfile,
  tests: readonly ManualTest[],
  events: readonly TankEvent[]
): readonly Entry[] {
  const fishFromMs = fishSince(profile, events)
  const nitrite = new Map(testValues(tests, 'nitrite', profile.kit).map((test) => [test.atMs, test]))
  const entries: Entry[] = testValues(tests, 'ammonia', profile.kit).flatMap((ammonia) => {
    const beside = nitrite.get(ammonia.atMs)
    // Ammonia alone says nothing of the second half of the cycle, unless it is already too high.
    if (beside === undefined && isClear(ammonia, clearAmmoniaMgLAsN)) return []
    const clear =
      isClear(ammonia, clearAmmoniaMgLAsN) && beside !== undefined && isClear(beside, clearNitriteMgLAsN)
    const strong = ammonia.value >= strongAmmoniaMgLAsN || (beside?.value ?? 0) >= strongNitriteMgLAsN
    return [{ kind: 'test', atMs: ammonia.atMs, clear, strong, withFish: ammonia.atMs >= fishFromMs }]
  })
  for (const event of events) {
    if (isAmmoniaDose(event)) entries.push({ kind: 'dose', atMs: event.atMs })
    if (event.kind === 'filter-cleaned' && event.data?.how === 'media-replaced')
      entries.push({ kind: 'media-replaced', atMs: event.atMs })
  }
  return entries.sort((a, b) => a.atMs - b.atMs)
}

const isClear = (test: TestValue, limit: number): boolean => test.atMost || test.value < limit

function fishSince(profile: TankProfile, events: readonly TankEvent[]): number {
  const answer = profile.start?.answer
  if (answer === 'fish-new' || answer === 'fish-established')
    return profile.start?.atMs ?? Number.NEGATIVE_INFINITY
  if (answer === undefined && (profile.species ?? []).length > 0) return Number.NEGATIVE_INFINITY
  return events.find((event) => event.kind === 'fish-added')?.atMs ?? Number.POSITIVE_INFINITY
}
