import type { TankFacts } from '../cycle/tank-facts.ts'
import { hourMs } from '../series/hours.ts'
import { median } from '../series/median.ts'
import { isDawn, localHour } from '../tank/local-hour.ts'
import { type PhDays, phDaysOf } from '../watch/ph-days.ts'
import type { Channel } from './channels.ts'

/** After these the earlier days are no measure any more: another electrode, another way of CO2, other water. */
const breaks = ['probe-changed', 'probe-cleaned', 'co2-changed', 'filled'] as const
/** A cleaned electrode is the same one: it may move by a tenth or two, and a crash is far more. */
const crashBreaks = ['probe-changed', 'co2-changed', 'filled'] as const

type Remembered = Readonly<{ hour: number; revision: number; sinceHour: number; days: PhDays }>
/** Whole hours change once an hour; what rests on them is worked out as often. */
type Memory = WeakMap<Channel, Remembered>
const memory: Memory = new WeakMap()
const crashMemory: Memory = new WeakMap()

/** How the pH of one probe stands against its own days. */
export const phDaysAt = (facts: TankFacts, channel: Channel, nowMs: number): PhDays =>
  daysSince(sinceHourOf(facts, nowMs), { facts, channel, nowMs, memory })

/** The same for a crash: days before the electrode was cleaned still count. */
export const crashDaysAt = (facts: TankFacts, channel: Channel, nowMs: number): PhDays =>
  daysSince(sinceHourOf(facts, nowMs, crashBreaks), { facts, channel, nowMs, memory: crashMemory })

function daysSince(
  sinceHour: number,
  given: Readonly<{ facts: TankFacts; channel: Channel; nowMs: number; memory: Memory }>
): PhDays {
  const { facts, channel, nowMs, memory } = given
  const hour = Math.floor(nowMs / hourMs)
  const revision = channel.hours.revision()
  const known = memory.get(channel)
  if (known?.hour === hour && known.revision === revision && known.sinceHour === sinceHour) return known.days
  const days = daysAt(facts, channel, { hour, sinceHour })
  memory.set(channel, { hour, revision, sinceHour, days })
  return days
}

type Drop = Readonly<{ hour: number; testMs: number; revision: number; drop: number | null }>
const drops = new WeakMap<Channel, Drop>()

/** How far below its days the pH stood in the hours after a test; null where that cannot be told. */
export function dropAround(
  facts: TankFacts,
  channel: Channel,
  given: Readonly<{ testMs: number; nowMs: number }>
): number | null {
  const hour = Math.min(Math.floor(given.nowMs / hourMs), hourAfterTest(given.testMs))
  const known = drops.get(channel)
  const revision = channel.hours.revision()
  if (known?.hour === hour && known.testMs === given.testMs && known.revision === revision) return known.drop
  const sinceHour = sinceHourOf(facts, given.nowMs)
  const { drop } = daysAt(facts, channel, { hour, sinceHour })
  const found = hour < sinceHour ? null : drop
  drops.set(channel, { hour, testMs: given.testMs, revision, drop: found })
  return found
}

/** How much warmer the water is than in the hours after a test; null where that was not heard. */
export function warmerSince(
  channel: Channel | null,
  given: Readonly<{ testMs: number; nowMs: number }>
): number | null {
  if (channel === null) return null
  const nowHour = Math.floor(given.nowMs / hourMs)
  const thenC = channel.hours.mean(Math.min(nowHour, hourAfterTest(given.testMs)) - 1)
  const nowC = channel.hours.mean(nowHour - 1)
  return thenC === null || nowC === null ? null : nowC - thenC
}

const usualDays = 21
const usuals = new WeakMap<Channel, Readonly<{ hour: number; revision: number; warmerK: number | null }>>()

/** How much warmer the water is than it usually was at this hour of the last three weeks; null before two days are known. */
export function warmerThanUsual(channel: Channel | null, nowMs: number): number | null {
  if (channel === null) return null
  const hour = Math.floor(nowMs / hourMs) - 1
  const revision = channel.hours.revision()
  const known = usuals.get(channel)
  if (known?.hour === hour && known.revision === revision) return known.warmerK
  const nowC = channel.hours.mean(hour)
  const earlier = Array.from({ length: usualDays }, (_, day) => channel.hours.mean(hour - 24 * (day + 1)))
  const means = earlier.filter((mean) => mean !== null)
  const usualC = means.length < 2 ? null : median(means)
  const warmerK = nowC === null || usualC === null ? null : nowC - usualC
  usuals.set(channel, { hour, revision, warmerK })
  return warmerK
}

/** By then the hours after a test are whole. */
const hourAfterTest = (testMs: number): number => Math.floor(testMs / hourMs) + 3

function daysAt(
  facts: TankFacts,
  channel: Channel,
  given: Readonly<{ hour: number; sinceHour: number }>
): PhDays {
  const { timeZone, lights } = facts.profile
  return phDaysOf({
    mean: channel.hours.mean,
    nowHour: given.hour,
    sinceHour: given.sinceHour,
    isDawn: (hour) => isDawn(localHour(hour * hourMs, timeZone), lights?.on)
  })
}

function sinceHourOf(facts: TankFacts, nowMs: number, by: readonly string[] = breaks): number {
  const broke = facts.events.findLast(({ kind, atMs }) => atMs <= nowMs && by.includes(kind))
  return broke === undefined ? Number.NEGATIVE_INFINITY : Math.ceil(broke.atMs / hourMs)
}
