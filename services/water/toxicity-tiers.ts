import type { MgLAsN, MgLAsNH3 } from './conversions.ts'
import { type Answer, firstOutside, known, type ValidRange } from './valid-range.ts'

/** How bad: nothing to do, look again, do something today, do something now. */
export const tiers = ['fine', 'watch', 'act', 'emergency'] as const
export type Tier = (typeof tiers)[number]
export type TierAnswer = Readonly<{ tier: Tier; because: string }>

const ourChoice = 'a working choice from the values quoted with each step, not a standard'
const concentration = (unit: string): ValidRange => ({ low: 0, high: 10_000, unit, source: ourChoice })

/** Lower ends of watch, act and (exclusive) emergency, with what is known to happen there. */
export const nh3Steps = {
  watch: { mgL: 0.02, why: 'long-term guideline 0.019 mg NH3/L (CCME, in Statistics Canada 16-256-x, 2007)' },
  act: { mgL: 0.05, why: 'gill damage is often reported from 0.05 mg NH3/L (UF/IFAS FA16; from memory)' },
  emergency: { mgL: 0.2, why: 'trout die within 96 h from 0.16 to 1.1 mg NH3/L (Thurston & Russo 1983)' }
} as const

/**
 * Says how bad so much toxic ammonia is for fish.
 * Units: mg NH3/L (as NH3) -> tier and reason.
 * Valid: 0 to 10 000 mg/L.
 * Source: a working choice from CCME 0.019, UF/IFAS FA16 0.05 and Thurston & Russo 1983 0.16-1.1 mg NH3/L.
 * Exact to: the steps as given; they are a choice, not a standard.
 */
export function ammoniaTier(nh3MgL: MgLAsNH3): Answer<TierAnswer> {
  const outside = firstOutside({ nh3MgL }, { nh3MgL: concentration('mg NH3/L') })
  if (outside) return outside
  const { watch, act, emergency } = nh3Steps
  if (nh3MgL > emergency.mgL) return known({ tier: 'emergency', because: emergency.why })
  if (nh3MgL >= act.mgL) return known({ tier: 'act', because: act.why })
  if (nh3MgL >= watch.mgL) return known({ tier: 'watch', because: watch.why })
  return known({ tier: 'fine', because: `below the ${watch.why}` })
}

/** Lower ends of watch, (exclusive) act and (exclusive) emergency where the chloride is not known. */
export const nitriteSteps = {
  watch: { mgLAsN: 0.1, why: 'guideline for long stays 0.06 mg N/L (CCME; from memory)' },
  act: {
    mgLAsN: 0.3,
    why: 'cutthroat fry die from 0.5 to 0.6 mg N/L in 96 h (Thurston, Russo & Smith 1981)'
  },
  emergency: { mgLAsN: 1, why: 'twice what kills cutthroat fry in 96 h (Thurston, Russo & Smith 1981)' },
  /** Below this no lack of chloride makes it worse: the strictest guideline, for water almost without chloride. */
  traceMgLAsN: 0.02,
  milderFromRatio: 10,
  harderBelowRatio: 3
} as const

/**
 * Says how bad so much nitrite is for fish, knowing or not knowing the chloride that guards them.
 * Units: mg N/L, mg Cl/L -> tier and reason.
 * Valid: 0 to 10 000 mg/L each; fish that hardly take up chloride (sunfish, bass) gain little from it.
 * Source: a working choice; cutthroat fry LC50 from Thurston, Russo & Smith 1981; chloride ratio from SRAC 462,
 *   Durborow, Crosby & Brunson 1997; British Columbia guideline by chloride (from memory).
 * Exact to: the steps as given; they are a choice, not a standard.
 */
export function nitriteTier(given: {
  nitriteMgLAsN: MgLAsN
  chlorideMgL?: number | undefined
}): Answer<TierAnswer> {
  const outside = firstOutside(given, {
    nitriteMgLAsN: concentration('mg N/L'),
    chlorideMgL: concentration('mg/L')
  })
  if (outside) return outside
  const { nitriteMgLAsN, chlorideMgL } = given
  const plain = plainNitriteTier(nitriteMgLAsN)
  if (chlorideMgL === undefined || nitriteMgLAsN < nitriteSteps.traceMgLAsN) return known(plain)
  const ratio = chlorideMgL / nitriteMgLAsN
  if (ratio >= nitriteSteps.milderFromRatio)
    return known(
      moved(plain, -1, 'chloride is at least 10 times the nitrite-N and keeps it out of the gills')
    )
  if (ratio < nitriteSteps.harderBelowRatio)
    return known(
      moved(plain, 1, 'chloride is less than 3 times the nitrite-N: nothing keeps it out of the gills')
    )
  return known(plain)
}

function plainNitriteTier(nitriteMgLAsN: number): TierAnswer {
  const { watch, act, emergency } = nitriteSteps
  if (nitriteMgLAsN > emergency.mgLAsN) return { tier: 'emergency', because: emergency.why }
  if (nitriteMgLAsN > act.mgLAsN) return { tier: 'act', because: act.why }
  if (nitriteMgLAsN >= watch.mgLAsN) return { tier: 'watch', because: watch.why }
  return { tier: 'fine', because: 'below 0.1 mg N/L' }
}

function moved(plain: TierAnswer, by: -1 | 1, because: string): TierAnswer {
  const tier = tiers[tiers.indexOf(plain.tier) + by]
  return tier === undefined ? plain : { tier, because }
}

/** Upper end of fine and of watch, as the ion. */
export const nitrateSteps = { watchMgLAsNO3: 25, actMgLAsNO3: 50, interferesFromNitriteMgLAsN: 0.5 } as const

/**
 * Says how high so much nitrate is for a tank; it is slow and never an emergency by itself.
 * Units: mg NO3/L (as the ion) -> tier and reason.
 * Valid: 0 to 10 000 mg/L.
 * Source: common practice, no source (below 50, better below 25 mg/L); Camargo, Alonso & Salamanca 2005,
 *   Chemosphere 58:1255-1267: 10 mg N/L (44 mg NO3/L) can harm sensitive animals in the long run.
 * Exact to: the steps as given; they are a choice, not a standard.
 */
export function nitrateTier(nitrateMgLAsNO3: number): Answer<TierAnswer> {
  const outside = firstOutside({ nitrateMgLAsNO3 }, { nitrateMgLAsNO3: concentration('mg NO3/L') })
  if (outside) return outside
  if (nitrateMgLAsNO3 > nitrateSteps.actMgLAsNO3)
    return known({
      tier: 'act',
      because: 'above 44 mg NO3/L sensitive animals suffer in the long run (Camargo et al. 2005)'
    })
  if (nitrateMgLAsNO3 >= nitrateSteps.watchMgLAsNO3)
    return known({ tier: 'watch', because: 'common practice keeps it below 25 mg NO3/L' })
  return known({ tier: 'fine', because: 'below 25 mg NO3/L, as common practice keeps it' })
}

/**
 * Says whether a nitrate kit can be believed: most turn nitrate into nitrite first, and nitrite then counts as nitrate.
 * Units: mg N/L of nitrite -> true if the nitrate reading is to be believed.
 * Valid: 0 to 10 000 mg/L.
 * Source: common practice, no source (flag nitrate while nitrite is above 0.5).
 * Exact to: the step as given.
 */
export function nitrateBelievable(nitriteMgLAsN: MgLAsN): Answer<boolean> {
  const outside = firstOutside({ nitriteMgLAsN }, { nitriteMgLAsN: concentration('mg N/L') })
  return outside ?? known(nitriteMgLAsN <= nitrateSteps.interferesFromNitriteMgLAsN)
}
