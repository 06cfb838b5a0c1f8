import type { MgLAsN } from './conversions.ts'
import { molarMass } from './molar-masses.ts'
import { type Answer, firstOutside, known, refused } from './valid-range.ts'

const srac =
  'SRAC 462, Durborow, Crosby & Brunson 1997, Nitrite in Fish Ponds: 10 parts chloride to 1 part nitrite'
export const chlorideGuardRanges = {
  nitriteMgLAsN: { low: 0, high: 1000, unit: 'mg N/L', source: 'fresh water' },
  chlorideMgL: { low: 0, high: 20_000, unit: 'mg/L', source: 'fresh water up to the sea' },
  volumeL: { low: 0.1, high: 10_000_000, unit: 'L', source: 'a jar up to a public aquarium' },
  ratio: { low: 1, high: 100, unit: 'mg Cl per mg N', source: srac }
} as const

/** Salt that brings 1 mg of chloride. Source: molar masses (IUPAC 2021). */
export const saltPerChloride = molarMass.NaCl / molarMass.Cl

export type ChlorideGuard = Readonly<{
  /** Chloride to nitrite-N now; null while there is no nitrite. */
  ratioNow: number | null
  chlorideToAddMgL: number
  saltG: number
}>

/**
 * Says how much plain salt guards the fish from so much nitrite. The ratio is meant on nitrogen; counted on the ion
 * the same guard is a ratio of about 3. It advises, it never doses: dissolve outside, add over hours.
 * Units: mg N/L, mg Cl/L, L, mg Cl per mg N -> mg Cl/L, g NaCl.
 * Valid: 0 to 1000 mg N/L, 0 to 20 000 mg Cl/L, ratio 1 to 100; not every kind of fish is helped (sunfish, bass).
 * Source: SRAC 462, Durborow, Crosby & Brunson 1997 (10 : 1); Tomasso 1986, Aquat. Toxicol. 8:129-137 (exceptions).
 * Exact to: double precision; the salt to the molar masses, 3e-5.
 */
export function chlorideGuard(given: {
  nitriteMgLAsN: MgLAsN
  chlorideMgL: number
  volumeL: number
  ratio?: number | undefined
}): Answer<ChlorideGuard> {
  const { nitriteMgLAsN, chlorideMgL, volumeL, ratio = 10 } = given
  const outside = firstOutside({ nitriteMgLAsN, chlorideMgL, volumeL, ratio }, chlorideGuardRanges)
  if (outside) return outside
  const chlorideToAddMgL = Math.max(0, ratio * nitriteMgLAsN - chlorideMgL)
  return known({
    ratioNow: nitriteMgLAsN === 0 ? null : chlorideMgL / nitriteMgLAsN,
    chlorideToAddMgL,
    saltG: saltForChloride({ chlorideMgL: chlorideToAddMgL, volumeL })
  })
}

/** Grams of salt for a rise in chloride, both already in range. */
function saltForChloride(given: { chlorideMgL: number; volumeL: number }): number {
  return (given.chlorideMgL * saltPerChloride * given.volumeL) / 1000
}

/**
 * Says how far so much salt lifts the chloride.
 * Units: g NaCl, L -> mg Cl/L.
 * Valid: any amount of salt from 0 up to 35 g/L, 0.1 to 10 000 000 L.
 * Source: molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function chlorideFromSalt(given: { saltG: number; volumeL: number }): Answer<number> {
  const { volumeL } = chlorideGuardRanges
  const outside = firstOutside({ volumeL: given.volumeL }, { volumeL })
  if (outside) return outside
  const saltG = { low: 0, high: 35 * given.volumeL, unit: 'g', source: 'no saltier than the sea' }
  if (!(given.saltG >= saltG.low && given.saltG <= saltG.high)) return refused('saltG', given.saltG, saltG)
  return known((given.saltG * 1000) / saltPerChloride / given.volumeL)
}
