import { around, type TankFacts } from '../cycle/tank-facts.ts'
import { chlorideGuard } from '../water/chloride-guard.ts'

/** Chloride moves with water changes only. Common practice, no source. */
const servesMs = 30 * 86_400_000

/** Chloride in the water, mg/L: by the last test of a month, else by the profile; null where nobody knows. */
export function chlorideAt(facts: TankFacts, atMs: number): number | null {
  const { last } = around(facts.chloride, atMs)
  if (last !== undefined && atMs - last.atMs <= servesMs) return last.low
  return facts.profile.chlorideMgL ?? null
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
