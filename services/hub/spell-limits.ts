import { type Band, nh3Tiers } from '../tank/bands.ts'
import { chlorineShowsMgL } from '../watch/chlorine-present.ts'
import { nitriteLimits } from '../watch/nitrite-unsafe.ts'
import type { SpellLimits } from '../watch/unsafe-spell.ts'

const above = { side: 'above', counts: 'all' } as const

export const nh3SpellLimits: SpellLimits = {
  ...above,
  watch: nh3Tiers.watchMgL,
  act: nh3Tiers.actMgL,
  emergency: nh3Tiers.emergencyMgL,
  deadband: 0.003
}

let latest: Readonly<{ chlorideMgL: number | null; limits: SpellLimits }> | null = null
/** Chloride stays for weeks: its limits are kept for the next minute. */
export function nitriteSpellLimits(chlorideMgL: number | null): SpellLimits {
  if (latest !== null && latest.chlorideMgL === chlorideMgL) return latest.limits
  const { watch, act, emergency } = nitriteLimits(chlorideMgL)
  const limits = { ...above, watch, act, emergency, deadband: 0.02 }
  latest = { chlorideMgL, limits }
  return limits
}

/** Any chlorine that shows is an emergency, as its alarm is: half of the first amount lies below all that show. */
export const chlorineSpellLimits: SpellLimits = {
  ...above,
  watch: chlorineShowsMgL / 2,
  act: chlorineShowsMgL / 2,
  emergency: chlorineShowsMgL / 2,
  deadband: 0
}

/** On the side on which the value stands; null where no band is known. */
export function bandSpellLimits(
  band: Band,
  given: Readonly<{ value: number | null; deadband: number }>
): SpellLimits | null {
  const { value, deadband } = given
  const middle = band.low !== null && band.high !== null ? (band.low + band.high) / 2 : null
  const isLow = value !== null && band.low !== null && (middle === null || value < middle)
  const limit = isLow ? band.low : band.high
  if (limit === null) return null
  return {
    side: isLow ? 'below' : 'above',
    watch: limit,
    act: limit,
    emergency: isLow ? band.dangerLow : band.dangerHigh,
    deadband,
    counts: 'beyond'
  }
}
