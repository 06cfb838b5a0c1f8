import { type FlatRun, flatRun } from '../series/flat-line.ts'
import { minutesOf } from '../series/minute-medians.ts'
import { flagNeighbour } from '../series/neighbour.ts'
import { rateOverMediansPerHour } from '../series/rate-of-change.ts'
import {
  freshQuality,
  type QualityAnswer,
  type QualityState,
  type QualityTest,
  stepQuality
} from '../series/step-quality.ts'
import { changedLimits } from '../tank/limit-changes.ts'
import type { StoredLimits } from '../tank/probe-notes.ts'
import type { TankProfile } from '../tank/profile.ts'
import { type QualityLimits, qualityLimitsFor } from '../tank/quality-limits.ts'
import { type Flag, flagInForce, isOutOfJudgement, type Reading } from '../tank/reading.ts'
import type { FlagChange } from './channels.ts'

type Name = Pick<Reading, 'probe' | 'quantity'>
/** What a keeper set otherwise, by probe. */
export type LimitsOfProbe = StoredLimits & Readonly<{ probe: string }>

/** How the newest reading of a channel stood the tests. */
export type TestsNow = Readonly<{
  flag: Flag
  why: QualityTest | null
  tests: Readonly<Record<QualityTest, Flag>>
  /** Since when it has not moved beyond its tolerance; null while it moves. */
  run: FlatRun | null
}>

/**
 * The quality tests of all channels of a tank. Readings wait for their whole minute and are tested in time order, so
 * that what comes out does not depend on the order in which they arrived within it.
 */
export type QualityBook = Readonly<{
  take: (reading: Reading) => void
  /** Tests what has come up to a moment; answers the readings that are judged otherwise than they came. */
  settle: (
    ask: Readonly<{ toMs: number; movementDueSinceMs: (of: Name) => number | null }>
  ) => readonly FlagChange[]
  /** Takes a reading into memory whose judgement is known. */
  remember: (reading: Reading) => void
  setLimits: (limits: readonly LimitsOfProbe[]) => void
  limitsOf: (of: Name) => QualityLimits
  testsOf: (of: Name) => TestsNow | null
}>

type Kept = {
  state: QualityState
  pending: Reading[]
  newest: Reading | null
  answer: QualityAnswer | null
}

export function makeQualityBook(profile: () => TankProfile): QualityBook {
  const kept = new Map<string, Kept & Name>()
  let limits: readonly LimitsOfProbe[] = []

  const nameOf = ({ probe, quantity }: Name): string => `${quantity} ${probe}`

  function of({ probe, quantity }: Name): Kept & Name {
    const name = nameOf({ probe, quantity })
    const known = kept.get(name)
    if (known !== undefined) return known
    const made = { probe, quantity, state: freshQuality, pending: [], newest: null, answer: null }
    kept.set(name, made)
    return made
  }

  function limitsOf({ probe, quantity }: Name): QualityLimits {
    const changed = limits.find((one) => one.probe === probe && one.quantity === quantity)
    return changedLimits(qualityLimitsFor(quantity, profile()), changed ?? null)
  }

  function step(one: Kept & Name, reading: Reading, dueMs: number | null): readonly FlagChange[] {
    const { atMs, value } = reading
    const isNewest = one.state.newestAtMs === null || atMs > one.state.newestAtMs
    const answer = stepQuality(one.state, { atMs, value }, limitsOf(one), { movementDueSinceMs: dueMs })
    const before = one.newest
    one.state = answer.next
    if (!isNewest) return isWorse(answer.flag, reading) ? [changeOf(reading, answer)] : []
    one.answer = answer
    one.newest = reading
    const changes: FlagChange[] = []
    const { previousFlag } = answer
    if (previousFlag !== undefined && before?.atMs === previousFlag.atMs && before.judged === undefined)
      changes.push({ reading: before, flag: previousFlag.flag, why: previousFlag.why })
    if (reading.judged === undefined && answer.flag !== reading.flag) {
      const change = changeOf(reading, answer)
      changes.push(change)
      one.newest = { ...reading, judged: { flag: change.flag, why: change.why } }
    }
    return changes
  }

  return {
    take: (reading) => {
      of(reading).pending.push(reading)
    },
    settle({ toMs, movementDueSinceMs }) {
      const changes: FlagChange[] = []
      for (const one of kept.values()) {
        if (one.pending.length === 0) continue
        const due = one.pending.filter(({ atMs }) => atMs <= toMs).sort((a, b) => a.atMs - b.atMs)
        if (due.length === 0) continue
        one.pending = one.pending.filter(({ atMs }) => atMs > toMs)
        const dueMs = movementDueSinceMs(one)
        for (const reading of due) changes.push(...step(one, reading, dueMs))
      }
      return changes
    },
    remember(reading) {
      step(of(reading), reading, null)
    },
    setLimits(told) {
      limits = told
    },
    limitsOf,
    testsOf(name) {
      const one = kept.get(nameOf(name))
      if (one === undefined || one.answer === null || one.newest === null) return null
      const own = limitsOf(one)
      const run = own.flatLine === undefined ? null : flatRun(one.state.blocks, own.flatLine)
      const neighbour = neighbourOf(one, own, [...kept.values()])
      return {
        flag: flagInForce(one.newest),
        why: one.answer.why,
        tests: { ...one.answer.tests, neighbour },
        run
      }
    }
  }
}

const changeOf = (reading: Reading, { flag, why }: QualityAnswer): FlagChange => ({ reading, flag, why })

/** A late reading is tested alone: what its neighbours said of it before stays. */
const isWorse = (flag: Flag, reading: Reading): boolean =>
  isOutOfJudgement(flag) && !isOutOfJudgement(flagInForce(reading))

const perHourOf = ({ state }: Kept): number | null => rateOverMediansPerHour(minutesOf(state.minutes))

function neighbourOf(own: Kept & Name, limits: QualityLimits, all: readonly (Kept & Name)[]): Flag {
  const other = all.find((one) => one.quantity === own.quantity && one.probe !== own.probe)
  if (limits.neighbour === undefined || other === undefined) return 2
  return flagNeighbour({ ownPerHour: perHourOf(own), neighbourPerHour: perHourOf(other) }, limits.neighbour)
}
