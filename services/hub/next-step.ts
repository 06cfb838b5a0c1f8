import { testEveryMs } from '../care/test-rhythm.ts'
import { around, type TankFacts } from '../cycle/tank-facts.ts'
import type { Derived } from '../cycle/toxic-ammonia.ts'
import { standingAtMs } from '../tank/stage.ts'
import { isHarmful, isLocked, isWorthWatching } from '../watch/ammonia-unsafe.ts'

/** The next thing a keeper should do, by name, with the words for it. */
export type NextStep = Readonly<{ step: string; dueAtMs: number | null; words: string }>

const dayMs = 86_400_000
/** Ammonia that may be too high for long, or waits in acid water, is looked at twice a day. Common practice, no source. */
const watchEveryMs = dayMs / 2
/** Ammonia that harms fish comes first; what is only worth watching is tested sooner. The schedule of tests follows the stage; before fish, the next step of the cycle stands first. */
export function nextStep(
  facts: TankFacts,
  given: Readonly<{
    nowMs: number
    nh3: Pick<Derived, 'value' | 'high' | 'from'>
  }>
): NextStep {
  const { nowMs, nh3 } = given
  const { stage, hasFish } = standingAtMs(facts.standings, nowMs)
  if (hasFish && isHarmful(nh3))
    return { step: 'test-ammonia-nitrite', dueAtMs: nowMs, words: 'Test ammonia again now.' }
  if (stage === 'dry')
    return {
      step: 'fill',
      dueAtMs: null,
      words: 'Fill the tank, with conditioned water, then tell the watch.'
    }
  if (stage === 'filled')
    return {
      step: 'start-cycle',
      dueAtMs: null,
      words: 'Start the cycle before any fish: add an ammonia source, then test ammonia and nitrite.'
    }
  const rhythmMs = testEveryMs[stage] ?? dayMs
  const everyMs =
    hasFish && (isWorthWatching(nh3) || isLocked(nh3)) ? Math.min(rhythmMs, watchEveryMs) : rhythmMs
  const ammoniaMs = around(facts.ammonia, nowMs).last?.atMs
  const nitriteMs = around(facts.nitrite, nowMs).last?.atMs
  const due = (atMs: number | undefined): number => (atMs === undefined ? nowMs : atMs + everyMs)
  const dueAtMs = Math.min(due(ammoniaMs), due(nitriteMs))
  return {
    step: 'test-ammonia-nitrite',
    dueAtMs,
    words: testWords(dueAtMs - nowMs, what(ammoniaMs, nitriteMs))
  }
}

const what = (ammoniaMs: number | undefined, nitriteMs: number | undefined): string =>
  ammoniaMs !== undefined && nitriteMs === undefined ? 'nitrite' : 'ammonia and nitrite'

function testWords(inMs: number, quantity: string): string {
  if (inMs <= 0) return `Test ${quantity} now.`
  const hours = Math.round(inMs / 3_600_000)
  if (hours <= 20) return `Test ${quantity} in ${hours <= 1 ? 'about an hour' : `about ${hours} hours`}.`
  const days = Math.round(inMs / dayMs)
  return `Test ${quantity} ${days <= 1 ? 'tomorrow' : `in ${days} days`}.`
}
