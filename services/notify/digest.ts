import { urgencyWords } from '../alarm/urgency-words.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import { inUnits } from '../contract/in-units.ts'
import type { OwedMessage } from '../tank/message.ts'
import type { Contact } from './contact.ts'
import { momentWords, oneLine, type Wording } from './message-text.ts'
import { quietUntilMs } from './quiet-hours.ts'
import { dayBefore, minuteOf, wallTime } from './wall-clock.ts'

/**
 * The local date whose digest is due now; null where none is. What is due follows the wall clock of the contact and
 * the date of the last digest alone: a night in which that time comes twice, or not at all, has one digest, and a
 * week without power is made up for by one.
 */
export function digestDue(
  ask: Readonly<{ nowMs: number; timeZone: string; digestAt: string; lastDate: string | null }>
): string | null {
  const { date, minuteOfDay } = wallTime(ask.nowMs, ask.timeZone)
  const dueDate = minuteOfDay >= minuteOf(ask.digestAt) ? date : dayBefore(date)
  return ask.lastDate !== null && ask.lastDate >= dueDate ? null : dueDate
}

/** A tank as the morning's summary sees it. */
export type DigestTank = Readonly<{
  name: string
  sentence: string
  next: string
  alarms: readonly AlarmView[]
}>

/** The morning's summary in words: how each tank is, what happened since the last one, what comes next. */
export function digestText(
  ask: Readonly<{
    tanks: readonly DigestTank[]
    sinceMs: number
    nowMs: number
    timeZone: string
    wording: Wording
    upkeep: readonly string[]
  }>
): string {
  const when = (atMs: number): string => momentWords(atMs, ask)
  const blocks = ask.tanks.map((tank) => {
    const news = tank.alarms.filter((alarm) => alarm.raisedAtMs >= ask.sinceMs || alarm.clearedAtMs === null)
    return [
      oneLine(tank.name, 60),
      inUnits(tank.sentence, ask.wording),
      ...(news.length === 0
        ? ['No alarms since the last summary.']
        : news.map((alarm) => alarmLine(alarm, when))),
      `Next: ${tank.next}`
    ].join('\n')
  })
  const upkeep =
    ask.upkeep.length === 0 ? [] : [['Upkeep:', ...ask.upkeep.map((line) => `- ${line}`)].join('\n')]
  return `${[...blocks, ...upkeep].join('\n\n')}\n`
}

function alarmLine(alarm: AlarmView, when: (atMs: number) => string): string {
  const end = alarm.clearedAtMs === null ? 'still there' : `over ${when(alarm.clearedAtMs)}`
  const seen =
    alarm.acknowledgedBy === null ? 'nobody has said they saw it' : `seen by ${alarm.acknowledgedBy}`
  return `- ${alarm.kind.replaceAll('-', ' ')} (“${urgencyWords[alarm.priority]}”): since ${when(alarm.raisedAtMs)}, ${end}, ${seen}`
}

/** The digest of one date as a message that is owed; a second plan of the same date is the same message. */
export function owedDigest(
  ask: Readonly<{ contact: Contact; date: string; text: string; nowMs: number }>
): OwedMessage {
  const { contact, date, text, nowMs } = ask
  return {
    id: `digest.${date}.${contact.id}`,
    sort: 'digest',
    contactId: contact.id,
    tankId: null,
    activationId: null,
    madeAtMs: nowMs,
    earliestMs: nowMs,
    dueAtMs: quietUntilMs(nowMs, contact.timeZone, contact.quietHours) ?? nowMs,
    priority: 'low',
    because: 'morning',
    title: `Your tanks, ${date}`,
    text
  }
}
