import { goesOn, isHushedByAlarm } from '../alarm/life.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import type { AlarmState, Priority } from '../tank/alarm-names.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { MessageState, OutboxMessage } from '../tank/message.ts'
import { type Circuit, closedCircuit, isOnTrial, isResting, longestPauseMs, pauseMs } from './backoff.ts'
import type { Contact, Way } from './contact.ts'
import { mayWake, quietUntilMs } from './quiet-hours.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

/** So long one way is tried before the next gets its turn. Our own choice, by priority. */
export const wayDeadlineMs: Readonly<Record<Priority, number>> = {
  critical: minuteMs,
  high: 3 * minuteMs,
  medium: 10 * minuteMs,
  low: 30 * minuteMs
}
/** News older than this is no news: it stands in the record, and is no longer sent. */
const oldestMs = 72 * hourMs

/** How the alarm stands that a message is about; null where it is unknown by now. */
export type Standing = Readonly<{
  state: AlarmState
  priority: Priority
  finding: Finding | null
  /** Another alarm is the cause that hushes it: it may go on when that is over, without ringing anew. */
  waitsForCause?: boolean
  /** When it last went on after such a cause, without ringing anew: what nobody was told of is news from then on. */
  backAtMs?: number | null
}>

/** How the alarm of a message stands, as far as the message is concerned. */
export const standingOf = (
  alarm: Pick<AlarmView, 'state' | 'priority' | 'finding' | 'changes'> | null
): Standing | null =>
  alarm === null
    ? null
    : {
        state: alarm.state,
        priority: alarm.priority,
        finding: alarm.finding,
        waitsForCause: alarm.state === 'suppressed' && isHushedByAlarm(alarm.changes.at(-1)?.because ?? ''),
        backAtMs: alarm.changes.findLast(({ because }) => because === goesOn)?.atMs ?? null
      }

export type MessageScene = Readonly<{
  nowMs: number
  contact: Contact | null
  standing: Standing | null
  /** A later message about the same thing to the same person is due as well. */
  hasNewer: boolean
  circuits: ReadonlyMap<string, Circuit>
  /** Ways on which a try is under way. */
  busy: ReadonlySet<string>
}>

export type MessageVerdict =
  | Readonly<{ do: 'send'; way: Way; sinceMs: number; wayTries: number }>
  | Readonly<{ do: 'wait'; untilMs: number; because: string; isHeld: boolean }>
  | Readonly<{ do: 'end'; state: Exclude<MessageState, 'waiting' | 'delivered'>; because: string }>

const seenTo: readonly AlarmState[] = [
  'normal',
  'acknowledged',
  'latched-acknowledged',
  'shelved',
  'suppressed',
  'out-of-service'
]

/** What is to be done with a message that is due: send it, and by which way; let it wait; or let it be. */
export function judgeMessage(message: OutboxMessage, scene: MessageScene): MessageVerdict {
  const { contact, nowMs } = scene
  if (contact === null) return end('not-needed', 'contact-removed')
  const over = whyNotNeeded(message, scene)
  if (over !== null) return end('not-needed', over)
  // It does not grow old while another alarm explains it: nothing would ring again in its place.
  if (scene.standing?.waitsForCause === true)
    return { do: 'wait', untilMs: nowMs + minuteMs, because: 'alarm-suppressed', isHeld: true }
  const newsSinceMs = Math.max(message.madeAtMs, scene.standing?.backAtMs ?? message.madeAtMs)
  if (nowMs - newsSinceMs > oldestMs) return end('given-up', 'too-old')
  const heldUntilMs = quietFor(message, scene, contact)
  if (heldUntilMs !== null) return { do: 'wait', untilMs: heldUntilMs, because: 'quiet-hours', isHeld: true }
  return chooseWay(message, scene, contact)
}

const end = (state: 'not-needed' | 'given-up', because: string): MessageVerdict => ({
  do: 'end',
  state,
  because
})

function whyNotNeeded(message: OutboxMessage, { standing, hasNewer }: MessageScene): string | null {
  if (hasNewer) return 'newer-message'
  if (message.sort !== 'alarm') return null
  if (standing === null) return 'alarm-unknown'
  if (standing.waitsForCause === true) return null
  if (seenTo.includes(standing.state)) return `alarm-${standing.state}`
  // What has gone by itself is news for the first person, and no reason to wake a second.
  if (standing.state === 'returned-unacknowledged' && message.earliestMs > message.madeAtMs) return 'over'
  return null
}

/** Until when quiet hours hold a message back; null where they do not. */
export function quietFor(
  message: OutboxMessage,
  { nowMs, standing }: Pick<MessageScene, 'nowMs' | 'standing'>,
  contact: Contact
): number | null {
  if (message.sort === 'test') return null
  const endMs = quietUntilMs(nowMs, contact.timeZone, contact.quietHours)
  if (endMs === null) return null
  const isOver = standing?.state === 'returned-unacknowledged'
  const priority = isOver ? 'low' : (standing?.priority ?? message.priority)
  const finding = isOver ? null : (standing?.finding ?? null)
  // An alarm that was critical when it rang, and went by itself, may wait for the morning.
  return mayWake({ priority, finding }, { nowMs, quietEndMs: endMs }) ? null : endMs
}

function chooseWay(message: OutboxMessage, scene: MessageScene, contact: Contact): MessageVerdict {
  const { nowMs, circuits, busy } = scene
  const { progress } = message
  const left = contact.ways.filter(({ id }) => !progress.spent.includes(id))
  const first = left[0]
  if (first === undefined) return end('given-up', contact.ways.length === 0 ? 'no-way' : 'every-way-refused')
  const present = left.findIndex(({ id }) => id === progress.wayId)
  const isExpired =
    present >= 0 &&
    progress.waySinceMs !== null &&
    nowMs - progress.waySinceMs >= wayDeadlineMs[message.priority]
  const startAt = present < 0 ? 0 : isExpired ? present + 1 : present
  const inTurn = left.map((_, step) => left[(startAt + step) % left.length] ?? first)
  const way = inTurn.find(({ id }) => {
    const circuit = circuits.get(id) ?? closedCircuit
    return !isResting(circuit, nowMs) && !(isOnTrial(circuit) && busy.has(id))
  })
  if (way === undefined)
    return { do: 'wait', untilMs: soonest(left, scene), because: 'way-rests', isHeld: false }
  const isSame = way.id === progress.wayId && !isExpired
  return {
    do: 'send',
    way,
    sinceMs: isSame ? (progress.waySinceMs ?? nowMs) : nowMs,
    wayTries: isSame ? progress.wayTries : 0
  }
}

function soonest(ways: readonly Way[], { circuits, nowMs }: MessageScene): number {
  const rests = ways.map(({ id }) => circuits.get(id)?.openUntilMs ?? nowMs)
  return Math.max(nowMs + 1000, Math.min(...rests))
}

/** How one try ended. `refused` is for good; `failed` may go well the next time. */
export type SendOutcome =
  | Readonly<{ outcome: 'delivered'; because: string }>
  | Readonly<{ outcome: 'failed'; because: string; retryAfterMs?: number | undefined }>
  | Readonly<{ outcome: 'refused'; because: string; wayIsGone?: boolean | undefined }>

type Tried = Readonly<{ way: Way; sinceMs: number; wayTries: number }>

/** What a message is after a try: delivered, or due again with its progress. `roll` spreads the waiting. */
export function stepMessage(
  message: OutboxMessage,
  result: SendOutcome,
  given: Readonly<{ nowMs: number; roll: number; tried: Tried; waysLeft: number }>
): Pick<OutboxMessage, 'state' | 'dueAtMs' | 'progress'> {
  const { nowMs, tried, roll } = given
  const tries = message.progress.tries + 1
  const firstTryMs = message.progress.firstTryMs ?? nowMs
  const wayTries = tried.wayTries + 1
  const progress = {
    ...message.progress,
    tries,
    firstTryMs,
    wayId: tried.way.id,
    waySinceMs: tried.sinceMs,
    wayTries
  }
  if (result.outcome === 'delivered') return { state: 'delivered', dueAtMs: nowMs, progress }
  if (result.outcome === 'refused') {
    const spent = [...new Set([...progress.spent, tried.way.id])]
    const next = { ...progress, wayId: null, waySinceMs: null, wayTries: 0, spent }
    return { state: given.waysLeft > 1 ? 'waiting' : 'given-up', dueAtMs: nowMs, progress: next }
  }
  const asked = Math.min(result.retryAfterMs ?? 0, longestPauseMs)
  const againMs = nowMs + Math.max(pauseMs({ tries: wayTries, roll }), asked)
  const deadlineMs = Math.max(nowMs, tried.sinceMs + wayDeadlineMs[message.priority])
  return {
    state: 'waiting',
    dueAtMs: given.waysLeft > 1 ? Math.min(againMs, deadlineMs) : againMs,
    progress
  }
}
