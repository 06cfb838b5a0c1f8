import { type AlarmKind, type AlarmState, type Priority, priorities } from '../tank/alarm-names.ts'
import type { AlarmSlot, Finding } from '../tank/alarm-record.ts'
import { longestShelfMs, reAlarmAfterMs } from './definitions.ts'
import { isLegal } from './transitions.ts'

/** What can happen to an alarm. */
export type AlarmInput =
  | Readonly<{
      on: 'judged'
      finding: Finding | null | 'cannot-tell'
      /** Of this finding for the animals in the water now; null: it never rings so. */
      priority: Priority | null
      /** The named reason why it must keep quiet now; null where it may ring. */
      hush: string | null
    }>
  | Readonly<{
      on: 'acknowledge' | 'unshelve' | 'reset' | 'take-out-of-service' | 'return-to-service'
      by: string
    }>
  | Readonly<{ on: 'shelve'; by: string; untilMs: number }>

export type AlarmRules = Readonly<{
  onDelayMs: number
  offDelayMs: number
  latches: boolean
  endsByHand?: boolean
}>

/** A change of state with its named reason; `from` = `to` where only the priority rose. */
export type LifeStep = Readonly<{ from: AlarmState; to: AlarmState; because: string; by?: string }>
export type Stepped = Readonly<{ next: AlarmSlot; steps: readonly LifeStep[] }>

/** An alarm that has never been raised. */
export function emptySlot(of: Readonly<{ tankId: string; kind: AlarmKind; subject: string }>): AlarmSlot {
  return {
    tankId: of.tankId,
    kind: of.kind,
    subject: of.subject,
    state: 'normal',
    activationId: null,
    priority: 'low',
    activeSinceMs: null,
    clearSinceMs: null,
    raisedAtMs: null,
    acknowledgedAtMs: null,
    announcedAtMs: null,
    shelvedUntilMs: null,
    finding: null
  }
}

/**
 * The next state of an alarm. Pure: what it is told, the time it is told, and a source of fresh ids for a new
 * activation are all it knows. No steps where nothing changed, or where a person asked for what is not possible.
 * Source: the state model of ANSI/ISA-18.2-2016 and IEC 62682, with acknowledge, shelve, suppress and latch as in
 * OPC UA part 9.
 */
export function stepAlarm(slot: AlarmSlot, input: AlarmInput, given: Given): Stepped {
  const known = atMost(slot, given.nowMs)
  return input.on === 'judged' ? judged(known, input, given) : asked(known, input, given)
}

/** A clock that ran ahead and was set back leaves times that have yet to come: nothing waits for those. */
function atMost(slot: AlarmSlot, nowMs: number): AlarmSlot {
  const { activeSinceMs, clearSinceMs, raisedAtMs, acknowledgedAtMs, announcedAtMs, shelvedUntilMs } = slot
  const isAhead = [activeSinceMs, clearSinceMs, raisedAtMs, acknowledgedAtMs, announcedAtMs].some(
    (atMs) => atMs !== null && atMs > nowMs
  )
  const lastShelfMs = nowMs + longestShelfMs
  if (!isAhead && (shelvedUntilMs === null || shelvedUntilMs <= lastShelfMs)) return slot
  const by = (limitMs: number, atMs: number | null) => (atMs === null ? null : Math.min(atMs, limitMs))
  return {
    ...slot,
    activeSinceMs: by(nowMs, activeSinceMs),
    clearSinceMs: by(nowMs, clearSinceMs),
    raisedAtMs: by(nowMs, raisedAtMs),
    acknowledgedAtMs: by(nowMs, acknowledgedAtMs),
    announcedAtMs: by(nowMs, announcedAtMs),
    shelvedUntilMs: by(lastShelfMs, shelvedUntilMs)
  }
}

type Given = Readonly<{ nowMs: number; rules: AlarmRules; newId: () => string }>
type JudgedInput = Extract<AlarmInput, Readonly<{ on: 'judged' }>>

function asked(slot: AlarmSlot, input: Exclude<AlarmInput, JudgedInput>, given: Given): Stepped {
  const { nowMs } = given
  const { state } = slot
  const go = (to: AlarmState, change: Partial<AlarmSlot> = {}): Stepped =>
    step(slot, { ...slot, ...change, state: to }, { because: input.on, by: input.by })
  const stay: Stepped = { next: slot, steps: [] }
  switch (input.on) {
    case 'acknowledge': {
      const acknowledgedAtMs = nowMs
      if (state === 'unacknowledged') return go('acknowledged', { acknowledgedAtMs })
      if (state === 'returned-unacknowledged') return go('normal', { acknowledgedAtMs })
      if (state === 'latched-unacknowledged') return go('latched-acknowledged', { acknowledgedAtMs })
      return stay
    }
    case 'reset':
      return state === 'latched-acknowledged' ? go('normal') : stay
    case 'shelve':
      if (state === 'shelved' || !isLegal(state, 'shelved')) return stay
      return go('shelved', { shelvedUntilMs: Math.min(input.untilMs, nowMs + longestShelfMs) })
    case 'unshelve':
      if (state !== 'shelved') return stay
      return reEvaluated(slot, slot, given, { because: input.on, by: input.by })
    case 'take-out-of-service':
      return state === 'out-of-service' ? stay : go('out-of-service', { shelvedUntilMs: null })
    case 'return-to-service':
      return state === 'out-of-service' ? go('normal', { activeSinceMs: null, clearSinceMs: null }) : stay
  }
}

function judged(slot: AlarmSlot, input: JudgedInput, given: Given): Stepped {
  const { nowMs, rules } = given
  // What never rings so is over, even where nothing can be told: the animals it was for are gone.
  const finding = input.priority === null ? null : input.finding
  const timed = withTimers(slot, finding, nowMs)
  const isDue = finding !== null && finding !== 'cannot-tell' && hasLasted(timed, given)
  const hasEnded =
    finding === null && timed.clearSinceMs !== null && nowMs - timed.clearSinceMs >= rules.offDelayMs
  const because = finding !== null && finding !== 'cannot-tell' ? finding.because : 'cleared'
  const worse = isWorse(input.priority, slot.priority) && because !== 'cleared' ? input.priority : null
  const ring = (why: string): Stepped => raise(slot, timed, input, why, nowMs)
  const go = (to: AlarmState, why: string, change: Partial<AlarmSlot> = {}): Stepped =>
    step(slot, { ...timed, ...change, state: to }, { because: why })
  const stay: Stepped = { next: timed, steps: [] }

  switch (slot.state) {
    case 'normal': {
      if (!isDue) return stay
      const fresh: AlarmSlot = {
        ...timed,
        activationId: given.newId(),
        priority: input.priority ?? slot.priority,
        raisedAtMs: null,
        acknowledgedAtMs: null,
        announcedAtMs: null,
        shelvedUntilMs: null
      }
      if (input.hush !== null) return step(slot, { ...fresh, state: 'suppressed' }, { because: input.hush })
      return raise(slot, fresh, input, because, nowMs)
    }
    case 'unacknowledged':
      if (hasEnded && rules.endsByHand === true) return endedByHand(slot, timed, nowMs)
      if (hasEnded) return go(rules.latches ? 'latched-unacknowledged' : 'returned-unacknowledged', 'cleared')
      if (input.hush !== null) return go('suppressed', input.hush, toldUnder(timed, input.hush))
      return worse === null ? stay : escalate(slot, timed, worse)
    case 'acknowledged':
      if (hasEnded) return go(rules.latches ? 'latched-acknowledged' : 'normal', 'cleared')
      // What explains it explains its growth too; the next judgement without an explanation rings.
      if (worse !== null && input.hush === null) return escalateAndRing(slot, timed, worse, nowMs)
      return input.hush === null && hasRested(timed, nowMs) ? ring('re-alarm') : stay
    case 'returned-unacknowledged':
    case 'latched-unacknowledged':
    case 'latched-acknowledged':
      return isDue && input.hush === null ? ring(because) : stay
    case 'shelved':
      if (worse !== null && input.hush === null) return ring('worse-than-shelved')
      if (nowMs < (timed.shelvedUntilMs ?? 0)) return stay
      // What explains it keeps it quiet when its shelf ends, too; it rings once nothing does.
      if (input.hush !== null && !hasEnded) return stay
      return reEvaluated(slot, timed, given, { because: 'shelf-time-over' })
    case 'suppressed':
      if (input.hush === null) {
        const { announcedAtMs } = timed
        const isTold =
          worse === null && announcedAtMs !== null && !hasRestedSince(announcedAtMs, timed, nowMs)
        const back = worse === null ? timed : { ...timed, priority: worse }
        return reEvaluated(slot, back, given, {
          because: 'quiet-time-over',
          toldAtMs: isTold ? announcedAtMs : null
        })
      }
      if (hasEnded) return reEvaluated(slot, timed, given, { because: 'cleared' })
      return { next: { ...timed, ...toldUnder(timed, input.hush) }, steps: [] }
    case 'out-of-service':
      return stay
  }
}

function step(from: AlarmSlot, next: AlarmSlot, why: Readonly<{ because: string; by?: string }>): Stepped {
  if (!isLegal(from.state, next.state))
    throw new RangeError(`an alarm cannot go from ${from.state} to ${next.state}`)
  return { next, steps: [{ from: from.state, to: next.state, ...why }] }
}

function withTimers(slot: AlarmSlot, finding: Finding | null | 'cannot-tell', nowMs: number): AlarmSlot {
  // Missing data neither raises nor clears: the timers stand as they are.
  if (finding === 'cannot-tell') return slot
  if (finding !== null)
    return { ...slot, activeSinceMs: slot.activeSinceMs ?? nowMs, clearSinceMs: null, finding }
  if (slot.activeSinceMs === null) return slot
  return { ...slot, activeSinceMs: null, clearSinceMs: nowMs }
}

const hasLasted = (slot: AlarmSlot, { nowMs, rules }: Given): boolean =>
  slot.activeSinceMs !== null && nowMs - slot.activeSinceMs >= rules.onDelayMs

const hasRested = (slot: AlarmSlot, nowMs: number): boolean =>
  slot.acknowledgedAtMs !== null && hasRestedSince(slot.acknowledgedAtMs, slot, nowMs)

function hasRestedSince(sinceMs: number, { priority }: AlarmSlot, nowMs: number): boolean {
  const afterMs = reAlarmAfterMs[priority]
  return afterMs !== null && nowMs - sinceMs >= afterMs
}

/** The same trouble after a quiet time, told before: nothing rings anew. */
export const goesOn = 'goes-on'

/** The reason to keep quiet where another alarm is the cause. */
export const hushedBy = (cause: AlarmKind): string => `hushed-by-${cause}`
export const isHushedByAlarm = (reason: string): boolean => reason.startsWith('hushed-by-')

/**
 * A cause that rings itself leaves it told: a power cut that comes and goes does not ring its effect each time. Work
 * in the tank does not: whoever had hands in it may think that all is mended.
 */
const toldUnder = (slot: AlarmSlot, hush: string): Pick<AlarmSlot, 'announcedAtMs'> => ({
  announcedAtMs: isHushedByAlarm(hush) ? slot.announcedAtMs : null
})

const isWorse = (priority: Priority | null, than: Priority): boolean =>
  priority !== null && priorities.indexOf(priority) < priorities.indexOf(than)

function raise(
  slot: AlarmSlot,
  timed: AlarmSlot,
  input: JudgedInput,
  because: string,
  nowMs: number
): Stepped {
  const next: AlarmSlot = {
    ...timed,
    state: 'unacknowledged',
    priority: input.priority ?? slot.priority,
    raisedAtMs: slot.state === 'normal' ? nowMs : (timed.raisedAtMs ?? nowMs),
    announcedAtMs: nowMs,
    shelvedUntilMs: null
  }
  return step(slot, next, { because })
}

function escalate(slot: AlarmSlot, timed: AlarmSlot, priority: Priority): Stepped {
  return step(slot, { ...timed, priority }, { because: 'escalated' })
}

/** Somebody knew of the lesser trouble only, so the greater one rings anew. */
function escalateAndRing(slot: AlarmSlot, timed: AlarmSlot, priority: Priority, nowMs: number): Stepped {
  const risen = escalate(slot, timed, priority)
  const next: AlarmSlot = { ...risen.next, state: 'unacknowledged', announcedAtMs: nowMs }
  const rung = step(slot, next, { because: 'worse-than-acknowledged' })
  return { next, steps: [...risen.steps, ...rung.steps] }
}

/** Whoever did what it asks for has seen it. */
function endedByHand(slot: AlarmSlot, timed: AlarmSlot, nowMs: number): Stepped {
  const seen = step(
    slot,
    { ...timed, state: 'acknowledged', acknowledgedAtMs: nowMs },
    { because: 'done-by-hand' }
  )
  const ended = step(seen.next, { ...seen.next, state: 'normal' }, { because: 'cleared' })
  return { next: ended.next, steps: [...seen.steps, ...ended.steps] }
}

/** After a shelf or a quiet time the condition decides anew; the old state is not restored. */
function reEvaluated(
  slot: AlarmSlot,
  timed: AlarmSlot,
  given: Given,
  why: Readonly<{
    because: string
    by?: string
    /** It rang then, and that still counts. */
    toldAtMs?: number | null
  }>
): Stepped {
  const { nowMs, rules } = given
  const { toldAtMs = null, ...reason } = why
  const wasRaised = timed.raisedAtMs !== null
  const clearing = wasRaised && timed.clearSinceMs !== null && nowMs - timed.clearSinceMs < rules.offDelayMs
  const stands = timed.activeSinceMs !== null ? wasRaised || hasLasted(timed, given) : clearing
  const back: AlarmSlot = { ...timed, shelvedUntilMs: null }
  if (stands) {
    const raisedAtMs = timed.raisedAtMs ?? nowMs
    const next: AlarmSlot = { ...back, state: 'unacknowledged', raisedAtMs, announcedAtMs: toldAtMs ?? nowMs }
    return step(slot, next, toldAtMs === null ? reason : { because: goesOn })
  }
  return step(
    slot,
    { ...back, state: rules.latches && wasRaised ? 'latched-unacknowledged' : 'normal' },
    reason
  )
}
