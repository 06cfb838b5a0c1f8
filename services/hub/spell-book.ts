import { carriedNitrite } from '../cycle/carried.ts'
import { around, type TankFacts, within } from '../cycle/tank-facts.ts'
import type { Derived } from '../cycle/toxic-ammonia.ts'
import type { Band } from '../tank/bands.ts'
import { standingAtMs } from '../tank/stage.ts'
import { chlorineShowsMgL, judgeChlorinePresent } from '../watch/chlorine-present.ts'
import {
  type SpellQuantity,
  type SpellSample,
  type SpellState,
  spellQuantities,
  stepSpell,
  stillGoing,
  type UnsafeSpell
} from '../watch/unsafe-spell.ts'
import { chlorideAt } from './chloride.ts'
import { bandSpellLimits, chlorineSpellLimits, nh3SpellLimits, nitriteSpellLimits } from './spell-limits.ts'
import { bandsOfStanding } from './standing-bands.ts'

/** What was known of the water at one moment. */
export type WaterAt = Readonly<{
  atMs: number
  nh3: Derived
  tempC: number | null
  pH: number | null
}>

/** The water of a minute, from what toxic ammonia was worked out with; only what a probe says now counts. */
export const waterOf = (nh3: Derived, atMs: number): WaterAt => ({
  atMs,
  nh3,
  tempC: nh3.from.tempFrom === 'probe' ? Number(nh3.from.tempC) : null,
  pH: nh3.from.pHFrom === 'probe' ? Number(nh3.from.pH) : null
})

/** Whether anything was unsafe then, or not yet clearly back: a spell that goes on has no safe half hour in it. */
export function isUneasyAt(facts: TankFacts, water: WaterAt): boolean {
  const samples = samplesOf(facts, water)
  return spellQuantities.some((quantity) => {
    const sample = samples[quantity]
    if (sample === null || sample.value === null) return false
    const { side, watch, deadband } = sample.limits
    return side === 'above' ? sample.value > watch - deadband : sample.value < watch + deadband
  })
}

/** The unsafe spells of one tank, moment by moment. Without fish there are none. */
export type SpellBook = Readonly<{
  look: (facts: TankFacts, water: WaterAt) => void
  /** Since when a quantity has been unsafe without a break; null where it is not. */
  sinceMs: (quantity: SpellQuantity) => number | null
  ongoing: () => readonly UnsafeSpell[]
  /** Ended ones first, then those that go on, each in time order. */
  all: () => readonly UnsafeSpell[]
}>

/** So many ended spells are kept: more than a year of trouble. */
const mostKept = 500

export function makeSpellBook(): SpellBook {
  const states = new Map<SpellQuantity, SpellState>()
  const ended: UnsafeSpell[] = []

  function carry(quantity: SpellQuantity, sample: SpellSample): void {
    const stepped = stepSpell(states.get(quantity) ?? null, quantity, sample)
    states.set(quantity, stepped.next)
    if (stepped.ended !== null) ended.push(stepped.ended)
    if (ended.length > mostKept) ended.shift()
  }

  function look(facts: TankFacts, water: WaterAt): void {
    const samples = samplesOf(facts, water)
    for (const quantity of spellQuantities) {
      const sample = samples[quantity]
      if (sample !== null) carry(quantity, sample)
    }
  }

  const ongoing = (): readonly UnsafeSpell[] =>
    spellQuantities.flatMap((quantity) => stillGoing(states.get(quantity) ?? null) ?? [])
  return {
    look,
    sinceMs: (quantity) => stillGoing(states.get(quantity) ?? null)?.fromMs ?? null,
    ongoing,
    all: () => [...ended, ...ongoing()].sort((a, b) => a.fromMs - b.fromMs)
  }
}

function samplesOf(
  facts: TankFacts,
  { atMs, nh3, tempC, pH }: WaterAt
): Readonly<Record<SpellQuantity, SpellSample | null>> {
  const standing = standingAtMs(facts.standings, atMs)
  const none = { atMs, value: null, low: null, high: null }
  if (!standing.hasFish) {
    const nothing = { ...none, limits: nh3SpellLimits }
    return { nh3: nothing, nitrite: nothing, chlorine: nothing, temperature: nothing, ph: nothing }
  }
  const bands = bandsOfStanding(standing, facts.profile.setpointC)
  const nitrite = carriedNitrite(facts, atMs)
  const measured = (
    value: number | null,
    band: Band,
    doubt: Readonly<{ error: number; deadband: number }>
  ): SpellSample | null => {
    const limits = bandSpellLimits(band, { value, deadband: doubt.deadband })
    if (limits === null) return null
    if (value === null) return { ...none, limits }
    return { atMs, value, low: value - doubt.error, high: value + doubt.error, limits }
  }
  return {
    nh3: { atMs, value: nh3.value, low: nh3.low, high: nh3.high, limits: nh3SpellLimits },
    nitrite: {
      atMs,
      value: nitrite.value,
      low: nitrite.low,
      high: nitrite.high,
      limits: nitriteSpellLimits(chlorideAt(facts, atMs))
    },
    chlorine: chlorineSample(facts, atMs),
    temperature: measured(tempC, bands.temperature, {
      error: 0.5,
      deadband: 0.25
    }),
    ph: measured(pH, bands.ph, { error: 0.1, deadband: 0.1 })
  }
}

function chlorineSample(facts: TankFacts, atMs: number): SpellSample {
  const test = around(facts.chlorine, atMs).last
  const found = judgeChlorinePresent({
    test,
    events: within(facts.events, { fromMs: atMs - 172_800_000, toMs: atMs }),
    tap: facts.profile.tap,
    nowMs: atMs
  })
  const shown = found !== null && found !== 'cannot-tell' && test !== undefined ? test : null
  // Without a test nobody knows how much it is: at least what fish feel.
  const value = found === null ? 0 : (shown?.value ?? chlorineShowsMgL)
  return {
    atMs,
    value,
    low: shown?.low ?? value,
    high: shown?.high ?? value,
    limits: chlorineSpellLimits
  }
}
