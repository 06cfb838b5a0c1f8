import { isOncePerHouse } from '../alarm/definitions.ts'
import { goesOn } from '../alarm/life.ts'
import { type AlarmKind, type Priority, priorities } from '../tank/alarm-names.ts'
import type { AlarmChange, AlarmSlot, Finding } from '../tank/alarm-record.ts'
import type { OwedMessage } from '../tank/message.ts'
import { mayBeCutUntil } from '../watch/probe-silent.ts'
import { type Contact, type Holiday, isHoliday } from './contact.ts'
import { mayWake, quietUntilMs } from './quiet-hours.ts'

const minuteMs = 60_000

export type PlanScene = Readonly<{
  changes: readonly AlarmChange[]
  slots: readonly AlarmSlot[]
  contacts: readonly Contact[]
  holiday: Holiday | null
}>

/**
 * Whom a change of alarms owes a message, and when. Pure: the same changes owe the same messages under the same
 * ids, so that planning them twice sends nothing twice. Alarms about the ways themselves owe none: they ring on
 * the wall, for the ways are what has failed.
 */
export function planMessages(scene: PlanScene): readonly OwedMessage[] {
  return scene.changes.filter(isRing).flatMap((change) => {
    const finding = scene.slots.find((slot) => slot.activationId === change.activationId)?.finding ?? null
    return whomToTell({ ...change, finding }, scene).map(({ contact, afterMinutes }) =>
      owedFor({ change, finding, contact, afterMinutes })
    )
  })
}

/** An alarm rings when it begins to ask for somebody, asks again, or grows worse. */
const isRing = (change: AlarmChange): boolean =>
  change.to === 'unacknowledged' &&
  change.kind !== 'alert-undelivered' &&
  change.because !== goesOn &&
  (change.from !== 'unacknowledged' || change.because === 'escalated')

type Turn = Readonly<{ contact: Contact; afterMinutes: number }>

type Rung = Readonly<{
  tankId: string
  kind: AlarmKind
  priority: Priority
  atMs: number
  finding: Finding | null
}>

function whomToTell(
  change: Rung,
  { contacts, holiday }: Pick<PlanScene, 'contacts' | 'holiday'>
): readonly Turn[] {
  const away = isHoliday(holiday, change.atMs) ? holiday : null
  return contacts
    .filter((contact) => {
      const { ways, tanks, leastPriority } = contact
      const isUrgentEnough =
        priorities.indexOf(change.priority) <= priorities.indexOf(leastPriority) ||
        isNowOrNever(change, contact)
      // It rings in one tank and is the trouble of all: whoever looks after another is told as well.
      const isTheirs = tanks === undefined || tanks.includes(change.tankId) || isOncePerHouse(change.kind)
      return ways.length > 0 && isUrgentEnough && isTheirs
    })
    .map((contact) => ({
      contact,
      // The friend stands beside the tank; whoever is away is told all the same.
      afterMinutes: away?.friendId === contact.id ? 0 : contact.afterMinutes
    }))
}

/**
 * Its time runs out within the quiet hours of this person: there it counts as critical, and whoever hears of those
 * hears of it. What is low threatens no fish and is left to the morning.
 */
function isNowOrNever({ priority, finding, atMs }: Rung, { timeZone, quietHours }: Contact): boolean {
  const quietEndMs = quietUntilMs(atMs, timeZone, quietHours)
  return (
    priority !== 'low' && quietEndMs !== null && mayWake({ priority, finding }, { nowMs: atMs, quietEndMs })
  )
}

function owedFor(
  ask: Readonly<{ change: AlarmChange; finding: Finding | null; contact: Contact; afterMinutes: number }>
): OwedMessage {
  const { change, finding, contact, afterMinutes } = ask
  const unsureMs = unsureUntilMs({ atMs: change.atMs, finding })
  const earliestMs = Math.max(change.atMs + afterMinutes * minuteMs, unsureMs)
  const endMs = quietUntilMs(earliestMs, contact.timeZone, contact.quietHours)
  const isHeld =
    endMs !== null &&
    !mayWake({ priority: change.priority, finding }, { nowMs: earliestMs, quietEndMs: endMs })
  return {
    id: `${change.activationId}.${change.atMs}.${contact.id}`,
    sort: 'alarm',
    contactId: contact.id,
    tankId: change.tankId,
    activationId: change.activationId,
    alarmKind: change.kind,
    madeAtMs: change.atMs,
    earliestMs,
    dueAtMs: isHeld ? endMs : earliestMs,
    priority: change.priority,
    because: isHeld
      ? 'quiet-hours'
      : earliestMs === unsureMs && unsureMs > change.atMs
        ? 'may-be-power-cut'
        : afterMinutes === 0
          ? 'told-at-once'
          : 'nobody-acknowledged'
  }
}

/** So long at most the message of one silence waits for what it may turn out to be. Our own choice. */
const longestUnsureMs = 7 * minuteMs
/** The minute in which all silent is judged comes first. */
const judgedWithinMs = 5000

/** A silence that may be a power cut rings at once, and is told once that is known: one story and not two. */
function unsureUntilMs({ atMs, finding }: Readonly<{ atMs: number; finding: Finding | null }>): number {
  const untilMs = finding?.facts?.[mayBeCutUntil]
  if (typeof untilMs !== 'number' || untilMs < atMs) return atMs
  const knownMs = (Math.floor(untilMs / minuteMs) + 1) * minuteMs + judgedWithinMs
  return knownMs - atMs > longestUnsureMs ? atMs : knownMs
}
