import { doseMgLAsN, isAmmoniaDose } from '../tank/ammonia-dose.ts'
import { standingAtMs } from '../tank/stage.ts'
import type { TestValue } from '../tank/test-value.ts'
import { perGramN } from '../water/nitrification.ts'
import { changedFraction } from './carried.ts'
import { fedMgN, fishMgNPerDay } from './production.ts'
import { around, type TankFacts, within } from './tank-facts.ts'

const dayMs = 86_400_000
/** So long a test of hardness stands for the water. Common practice, no source. */
const khServesMs = 30 * dayMs
/** So far back food and doses tell what the filter works off. */
const lookBackMs = 7 * dayMs
const pairWithinMs = 21 * dayMs
/** A kit counts whole drops: less than this between two tests is nothing. */
const readableDKh = 0.75
/** Ordinary fish give off about a third of the most that small fed fish do (1032 against 353 mg N/kg/d). */
const usualOfMost = 0.33

/** Carbonate hardness at a moment and how fast it goes. */
export type AlkalinityBudget = Readonly<{
  khDKh: number
  perDayDKh: number | null
  testedAtMs: number
  /** The test with half a drop taken off: kits count up to the drop that turns the colour. */
  testedDKh: number
  undisturbed: boolean
}>

/**
 * Carbonate hardness carried from the last test: a water change brings the tap's, and every mg of nitrogen that is
 * nitrified takes 0.400 dKH in each litre (7.14 mg CaCO3 a mg N). Null without a test of the last 30 days.
 * Units: dKH, dKH a day.
 * Valid: fresh water; other sinks and sources of alkalinity show only in the tests.
 * Source: stoichiometry of nitrification; what food and fish bring: see `production.ts`.
 * Exact to: half a dKH, a drop of the kit; the pace to about a third.
 */
export function alkalinityAt(facts: TankFacts, atMs: number): AlkalinityBudget | null {
  const base = around(facts.kh, atMs).last
  if (base === undefined || atMs - base.atMs > khServesMs) return null
  const perDayDKh = paceAt(facts, base, atMs)
  const mixed = carried(facts, { fromMs: base.atMs, toMs: atMs, khDKh: base.low })
  const days = (atMs - base.atMs) / dayMs
  return {
    khDKh: Math.max(0, mixed.khDKh - (perDayDKh ?? 0) * days * mixed.keptFrac),
    perDayDKh,
    testedAtMs: base.atMs,
    testedDKh: base.low,
    undisturbed: mixed.keptFrac === 1
  }
}

/** The faster of what two tests show and what the nitrogen brought in must take. */
function paceAt(facts: TankFacts, base: TestValue, atMs: number): number | null {
  const paces = [paceByTests(facts, base), paceByNitrogen(facts, atMs)].filter((pace) => pace !== null)
  return paces.length === 0 ? null : Math.max(...paces)
}

function paceByTests(facts: TankFacts, base: TestValue): number | null {
  const before = around(facts.kh, base.atMs - 1).last
  if (before === undefined || base.atMs - before.atMs > pairWithinMs) return null
  const days = (base.atMs - before.atMs) / dayMs
  if (days < 0.5) return null
  const expected = carried(facts, { fromMs: before.atMs, toMs: base.atMs, khDKh: before.value })
  const used = expected.khDKh - base.value
  return used < readableDKh ? 0 : used / days
}

/** By what was dosed and fed in the last week, or by the fish where nobody writes down the feeding. */
function paceByNitrogen(facts: TankFacts, atMs: number): number | null {
  const { profile, standings } = facts
  const events = within(facts.events, { fromMs: atMs - lookBackMs, toMs: atMs })
  let dosedMgL = 0
  let fedMgL = 0
  for (const event of events) {
    if (isAmmoniaDose(event)) dosedMgL += doseMgLAsN(event, profile) ?? 0
    if (event.kind === 'fed') fedMgL += fedMgN(event).expected / profile.volumeL
  }
  const { livestock, stage } = standingAtMs(standings, atMs)
  const byFishMgL = (fishMgNPerDay(livestock) * usualOfMost) / profile.volumeL
  const perDayMgL = dosedMgL / 7 + (fedMgL > 0 ? fedMgL / 7 : byFishMgL)
  // Before the first bacteria are there, what is dosed just stays.
  if (stage === 'filled' || stage === 'dry') return null
  return perDayMgL * perGramN.khDKhPerMgL
}

function carried(
  facts: TankFacts,
  given: Readonly<{ fromMs: number; toMs: number; khDKh: number }>
): Readonly<{ khDKh: number; keptFrac: number }> {
  const { profile } = facts
  let { khDKh } = given
  let keptFrac = 1
  for (const event of within(facts.events, given)) {
    if (event.kind !== 'water-changed') continue
    const share = changedFraction(event, profile.volumeL)
    khDKh = khDKh * (1 - share) + (profile.tap?.khDKh ?? given.khDKh) * share
    keptFrac *= 1 - share
  }
  return { khDKh, keptFrac }
}
