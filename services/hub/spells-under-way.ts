import { minuteMs } from '../series/minutes.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Channels } from './channels.ts'
import { deriveAsThen } from './derive.ts'
import { knowledgeOverTime, versionsOfPast } from './knowledge-over-time.ts'
import { isUneasyAt, type SpellBook, type WaterAt, waterOf } from './spell-book.ts'

/** Longer than the day that a spell may take to count. */
const lookBackMs = 28 * 60 * minuteMs
/** Longer than a spell waits for what cannot be told, and the half hour after which it is over. */
const safeMinutesEnough = 155

/**
 * After a restart: tells a book which spells were under way, by what was known at each moment. Goes back until hours
 * on end were safe or unknown, at most over a day.
 */
export function findSpellsUnderWay(
  book: SpellBook,
  given: Readonly<{
    profile: TankProfile
    tests: readonly ManualTest[]
    events: readonly TankEvent[]
    channels: Channels
    toMs: number
  }>
): void {
  const { profile, channels, toMs } = given
  const knownAt = knowledgeOverTime(profile, versionsOfPast(given))
  const waterAt = (atMs: number): WaterAt => waterOf(deriveAsThen(knownAt(atMs), channels, atMs).nh3, atMs)
  let fromMs = toMs
  let safeMinutes = 0
  while (safeMinutes < safeMinutesEnough && fromMs > toMs - lookBackMs) {
    fromMs -= minuteMs
    safeMinutes = isUneasyAt(knownAt(fromMs), waterAt(fromMs)) ? 0 : safeMinutes + 1
  }
  for (let atMs = fromMs; atMs <= toMs; atMs += minuteMs) book.look(knownAt(atMs), waterAt(atMs))
}
