import type { TankFacts } from '../cycle/tank-facts.ts'
import { hourMs } from '../series/hours.ts'
import { nh3Tiers } from '../tank/bands.ts'
import { heaterPowerW } from '../tank/profile.ts'
import { standingAtMs } from '../tank/stage.ts'
import { isLocked } from '../watch/ammonia-unsafe.ts'
import { asksAboutCo2 } from '../watch/ph-falling.ts'
import { oneBoardLost } from '../watch/power-cut.ts'
import { isFresh } from './channels.ts'
import { type DerivedNow, nh3AtTest } from './derive.ts'
import { phDaysAt } from './ph-memory.ts'
import { workJustDone } from './quiet-times.ts'
import type { TankWatch } from './tank-watch.ts'

/** What the watch says without ringing: a warning, a question, or what is easily forgotten. */
export type Notice = Readonly<{
  notice: string
  words: string
  /** Questions to look at one by one, where it asks some. */
  asks?: readonly string[]
  sinceMs?: number
}>

const minuteMs = 60_000
const co2AsksMs = 36 * hourMs

/** Everything to be said about a moment, most important first. */
export function noticesAt(watch: TankWatch, derived: DerivedNow, nowMs: number): readonly Notice[] {
  const { hasFish } = standingAtMs(watch.facts().standings, nowMs)
  return [
    ...(hasFish ? [ammoniaLocked(derived), toxicByEvening(watch, derived)] : []),
    powerBack(watch, nowMs),
    co2Question(watch, nowMs),
    afterWork(watch.facts(), nowMs)
  ].flatMap((notice) => notice ?? [])
}

/** Much total ammonia in acid water: harmless now, deadly once the pH rises. */
function ammoniaLocked({ nh3 }: DerivedNow): Notice | null {
  if (!isLocked(nh3)) return null
  return {
    notice: 'ammonia-locked-not-safe',
    words: `Locked, not safe: ${Number(nh3.from.tanMgLAsN).toFixed(1)} mg/L of ammonia (as N) waits in this acid water. If the pH rises, it turns toxic. Small changes of 10 to 15 % only, and nothing that lifts the pH fast: KH by 1 dKH a day at most.`
  }
}

/** What was harmless when it was tested is toxic by the pH of now. */
function toxicByEvening(watch: TankWatch, { nh3 }: DerivedNow): Notice | null {
  if (nh3.value === null || nh3.asOfMs === null || nh3.value <= nh3Tiers.watchMgL) return null
  const { pH } = nh3.from
  const then = nh3AtTest(watch.facts(), watch.channels(), nh3.asOfMs)
  if (then === null || then.nh3MgL > nh3Tiers.watchMgL || typeof pH !== 'number' || pH - then.pH < 0.15)
    return null
  return {
    notice: 'harmless-test-now-toxic',
    words: `When you tested, ${then.nh3MgL.toFixed(3)} mg/L of the ammonia was toxic, at pH ${then.pH.toFixed(1)}. The pH has risen to ${pH.toFixed(1)} since: now it is ${nh3.value.toFixed(3)} mg/L.`,
    sinceMs: nh3.asOfMs
  }
}

function co2Question(watch: TankWatch, nowMs: number): Notice | null {
  const channel = watch.channels().voice('ph', nowMs)
  if (channel === null || !isFresh(channel, nowMs)) return null
  const { events } = watch.facts()
  const told = events.findLast(({ kind, atMs }) => kind === 'co2-changed' && atMs <= nowMs)
  const toldLately = told !== undefined && nowMs - told.atMs < co2AsksMs
  // Days before the change of CO2 are no measure any more, so its own first day is told by the event alone.
  if (!asksAboutCo2({ days: phDaysAt(watch.facts(), channel, nowMs) }, toldLately)) return null
  return {
    notice: 'is-it-co2',
    words: toldLately
      ? 'CO2 was changed lately, so the pH is expected to move. Look at the fish: gasping at the surface means too much.'
      : 'The pH has fallen within hours, as it does when CO2 is switched on. Is CO2 running? If not, test KH and ammonia.',
    asks: ['Is CO2 running?', 'Are the fish gasping at the surface?']
  }
}

/** Hands have been in the tank and are out again: what is usually forgotten is looked at. */
function afterWork(facts: TankFacts, nowMs: number): Notice | null {
  const doneMs = workJustDone(facts.events, nowMs)
  if (doneMs === null) return null
  const isHeated = heaterPowerW(facts.profile) !== 0
  return {
    notice: 'after-hands-in-the-tank',
    words: `Hands are out of the tank. ${isHeated ? 'Four' : 'Three'} things are easily forgotten:`,
    asks: [
      ...(isHeated ? ['Is the heater plugged in, and all of it under water?'] : []),
      'Is the filter running?',
      'Is the lid on?',
      'Did new water get conditioner?'
    ],
    sinceMs: doneMs
  }
}

const powerTalkMs = 6 * hourMs

/** Power or network is back: how long it was gone and how far the water has cooled, not the gap itself. */
function powerBack(watch: TankWatch, nowMs: number): Notice | null {
  const cut = watch
    .board()
    .slots()
    .find(({ kind }) => kind === 'power-cut')
  if (cut === undefined || cut.clearSinceMs === null || cut.activeSinceMs !== null) return null
  if (nowMs - cut.clearSinceMs > powerTalkMs) return null
  const goneMs = cut.finding?.sinceMs
  const isOneBoard = cut.finding?.because === oneBoardLost
  if (goneMs === undefined) return null
  const channel = watch.channels().voice('temperature', nowMs)
  const before = channel?.minutes.recentMedian({ toMs: goneMs, count: 5, withinMs: 30 * minuteMs }) ?? null
  const after = channel?.minutes.recentMedian({ toMs: nowMs, count: 5, withinMs: 30 * minuteMs }) ?? null
  const hours = (cut.clearSinceMs - goneMs) / hourMs
  const gone = hours < 1.5 ? `${Math.round(hours * 60)} minutes` : `${Math.round(hours)} hours`
  const cooled =
    before === null || after === null
      ? ''
      : before - after > 0.3
        ? ` The water is ${(before - after).toFixed(1)} °C colder than before: let it warm by 1 to 2 °C an hour.`
        : ' The water has hardly cooled.'
  const filter =
    hours >= 2
      ? ' Open a closed filter and rinse its media in tank water before it runs; then test daily for three days.'
      : ''
  return {
    notice: 'power-is-back',
    words: `${isOneBoard ? 'The lost board' : 'Everything'} is heard again after ${gone} of silence.${cooled}${isOneBoard ? '' : filter}`,
    sinceMs: cut.clearSinceMs
  }
}
