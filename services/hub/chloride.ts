import { changedFraction } from '../cycle/carried.ts'
import { around, type TankFacts, within } from '../cycle/tank-facts.ts'
import { chlorideGuard } from '../water/chloride-guard.ts'

/** Chloride moves with water changes only. Common practice, no source. */
const servesMs = 30 * 86_400_000

/**
 * Chloride in the water, mg/L: by the last test of a month, thinned by every water change since, else by the profile;
 * null where nobody knows. Fresh water is taken to bring no more than the profile says the water usually holds.
 */
export function chlorideAt(facts: TankFacts, atMs: number): number | null {
  const { last } = around(facts.chloride, atMs)
  const { chlorideMgL: usualMgL, volumeL } = facts.profile
  if (last === undefined || atMs - last.atMs > servesMs) return usualMgL ?? null
  const freshMgL = Math.min(last.low, usualMgL ?? 0)
  return within(facts.events, { fromMs: last.atMs, toMs: atMs }).reduce((mgL, event) => {
    const share = changedFraction(event, volumeL)
    return mgL * (1 - share) + freshMgL * share
  }, last.low)
}

/** Grams of salt that bring the chloride to ten times the nitrite; null where it cannot be told. */
export function guardingSaltG(facts: TankFacts, nitriteMgLAsN: number, atMs: number): number | null {
  const answer = chlorideGuard({
    nitriteMgLAsN,
    chlorideMgL: chlorideAt(facts, atMs) ?? 0,
    volumeL: facts.profile.volumeL
  })
  return answer.ok ? answer.value.saltG : null
}
