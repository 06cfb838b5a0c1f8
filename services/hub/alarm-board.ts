import type { AlarmDefinition } from '../alarm/definition.ts'
import { definitionOf, isJudged, type JudgedKind, priorityOf } from '../alarm/definitions.ts'
import { type AlarmInput, type AlarmRules, emptySlot, type LifeStep, stepAlarm } from '../alarm/life.ts'
import type { AlarmKind } from '../tank/alarm-names.ts'
import type { AlarmChange, AlarmSlot, Finding } from '../tank/alarm-record.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { Judged } from '../watch/judged.ts'

/** What a judgement brings to the board. */
export type Verdict = Readonly<{
  kind: JudgedKind
  subject: string
  found: Judged
  /** A person has measured since what stands was found: where that finds nothing, it is over without a wait. */
  measuredAnew?: boolean
}>

/** How a room of judgements hands its verdicts over. */
export type Bring = (verdict: Verdict) => void

export type PersonAsk = Exclude<AlarmInput, Readonly<{ on: 'judged' }>>

/** All alarms of one tank with their timers, and what changed since it was last asked. */
export type AlarmBoard = Readonly<{
  stood: (kind: AlarmKind, subject: string) => boolean
  /** What was found last of an alarm, also of one that is ending. */
  lastFound: (kind: AlarmKind, subject: string) => Finding | null
  /**
   * Whether an alarm's condition holds, its way back included: what hushes others. With a quantity, one that is about
   * another quantity does not count.
   */
  holds: (kind: AlarmKind, about?: Quantity) => boolean
  judge: (
    verdict: Verdict,
    given: Readonly<{
      nowMs: number
      hasFish: boolean
      /** The named reason why an alarm must keep quiet now; null where it may ring. */
      hush: (kind: JudgedKind, subject: string) => string | null
    }>
  ) => void
  ask: (
    activationId: string,
    input: PersonAsk,
    given: Readonly<{ nowMs: number; hasFish: boolean }>
  ) => 'done' | 'unknown' | 'wrong-state'
  /** Alarms of a probe follow it to its new name. */
  rename: (kinds: (kind: AlarmKind) => boolean, change: Readonly<{ from: string; to: string }>) => void
  slots: () => readonly AlarmSlot[]
  /** Of one activation, oldest first, as far as this board remembers. */
  changesOf: (activationId: string) => readonly AlarmChange[]
  /** Hands over what changed since the last call. */
  take: () => Readonly<{ changes: readonly AlarmChange[]; slots: readonly AlarmSlot[] }>
}>

export function makeAlarmBoard(
  given: Readonly<{
    tankId: string
    slots?: readonly AlarmSlot[]
    /** Of activations that still stand. */
    changes?: readonly AlarmChange[]
    newId: () => string
  }>
): AlarmBoard {
  const { tankId, newId } = given
  const slots = new Map((given.slots ?? []).map((slot) => [keyOf(slot.kind, slot.subject), slot]))
  const remembered = new Map<string, AlarmChange[]>()
  for (const change of given.changes ?? []) remember(change)
  let fresh: AlarmChange[] = []
  const touched = new Set<string>()

  function remember(change: AlarmChange): void {
    const list = remembered.get(change.activationId) ?? []
    list.push(change)
    remembered.set(change.activationId, list)
  }

  function put(before: AlarmSlot, next: AlarmSlot, steps: readonly LifeStep[], atMs: number): void {
    if (next === before) return
    const key = keyOf(next.kind, next.subject)
    slots.set(key, next)
    if (steps.length > 0 || hasNewTimers(before, next)) touched.add(key)
    for (const { from, to, because, by } of steps) {
      const change: AlarmChange = {
        atMs,
        activationId: next.activationId ?? '',
        tankId,
        kind: next.kind,
        subject: next.subject,
        from,
        to,
        priority: next.priority,
        because,
        ...(by === undefined ? {} : { by })
      }
      fresh.push(change)
      remember(change)
    }
    if (next.state === 'normal' && next.activationId !== null) remembered.delete(next.activationId)
  }

  return {
    lastFound: (kind, subject) => slots.get(keyOf(kind, subject))?.finding ?? null,
    stood: (kind, subject) => (slots.get(keyOf(kind, subject))?.activeSinceMs ?? null) !== null,
    holds(kind, about) {
      for (const slot of slots.values()) {
        if (slot.kind !== kind || isAboutOther(slot, about)) continue
        if (slot.activeSinceMs !== null && slot.state !== 'normal') return true
        if (slot.state === 'unacknowledged' || slot.state === 'acknowledged') return true
      }
      return false
    },
    judge(verdict, { nowMs, hasFish, hush }) {
      const { kind, subject, found } = verdict
      const known = slots.get(keyOf(kind, subject))
      const nothing = found === null || found === 'cannot-tell'
      if (nothing && (known === undefined || (known.state === 'normal' && known.activeSinceMs === null)))
        return
      const definition = definitionOf(kind)
      const slot = known ?? emptySlot({ tankId, kind, subject })
      const because = nothing ? '' : found.because
      const priority = priorityOf(definition, { hasFish, because })
      const input: AlarmInput = { on: 'judged', finding: found, priority, hush: hush(kind, subject) }
      const usual = rulesOf(definition, hasFish, slot)
      const rules = verdict.measuredAnew === true ? { ...usual, offDelayMs: 0 } : usual
      const stepped = stepAlarm(slot, input, { nowMs, rules, newId })
      put(slot, stepped.next, stepped.steps, nowMs)
    },
    ask(activationId, input, { nowMs, hasFish }) {
      for (const slot of slots.values()) {
        if (slot.activationId !== activationId || !isJudged(slot.kind)) continue
        const rules = rulesOf(definitionOf(slot.kind), hasFish, slot)
        const stepped = stepAlarm(slot, input, { nowMs, rules, newId })
        if (stepped.steps.length === 0) return 'wrong-state'
        put(slot, stepped.next, stepped.steps, nowMs)
        return 'done'
      }
      return 'unknown'
    },
    rename(isIt, { from, to }) {
      for (const [key, slot] of [...slots]) {
        if (slot.subject !== from || !isIt(slot.kind)) continue
        slots.delete(key)
        touched.delete(key)
        slots.set(keyOf(slot.kind, to), { ...slot, subject: to })
        touched.add(keyOf(slot.kind, to))
      }
    },
    slots: () => [...slots.values()],
    changesOf: (activationId) => remembered.get(activationId) ?? [],
    take() {
      const changes = fresh
      const changed = [...touched].flatMap((key) => slots.get(key) ?? [])
      fresh = []
      touched.clear()
      return { changes, slots: changed }
    }
  }
}

const keyOf = (kind: AlarmKind, subject: string): string => `${kind} ${subject}`

const isAboutOther = ({ finding }: AlarmSlot, about: Quantity | undefined): boolean => {
  const quantity = finding?.facts?.quantity
  return about !== undefined && quantity !== undefined && quantity !== about
}

/** An alarm that latches for the animals' sake does not without them; what ends by hand may ask for more once it is grave. */
function rulesOf(definition: AlarmDefinition, hasFish: boolean, { finding }: AlarmSlot): AlarmRules {
  const { endsByHand, latchesOnlyWithFish, latches } = definition
  return {
    ...definition,
    latches: latches && !(latchesOnlyWithFish === true && !hasFish),
    endsByHand: endsByHand === true || endsByHand?.includes(finding?.because ?? '') === true
  }
}

/** Whether what a restart must find again has changed; the numbers of the finding are judged anew anyway. */
const hasNewTimers = (before: AlarmSlot, next: AlarmSlot): boolean =>
  before.activeSinceMs !== next.activeSinceMs ||
  before.clearSinceMs !== next.clearSinceMs ||
  before.announcedAtMs !== next.announcedAtMs ||
  before.shelvedUntilMs !== next.shelvedUntilMs ||
  before.priority !== next.priority ||
  before.finding?.because !== next.finding?.because ||
  before.finding?.facts?.probes !== next.finding?.facts?.probes
