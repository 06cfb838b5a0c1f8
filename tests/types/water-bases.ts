// Compiled, never run: what is counted as one thing must not fit where another is asked.
import { chlorideGuard } from '../../services/water/chloride-guard.ts'
import {
  ammoniaAsN,
  ammoniaFromN,
  type MgLAsN,
  type MgLAsNH3,
  type MgLAsNO2,
  nitriteAsN,
  nitriteFromN
} from '../../services/water/conversions.ts'
import { nitrousAcid } from '../../services/water/nitrous-acid.ts'
import { ammoniaTier } from '../../services/water/toxicity-tiers.ts'
import { unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'

const typedIn = 0.5
const asN: MgLAsN = nitriteAsN({ nitriteMgL: typedIn, basis: 'NO2' })
// A plain number fits: a typed-in value has no basis until someone gives it one.
const asIon: MgLAsNO2 = typedIn as MgLAsNO2
export const wantsIon = (nitrite: MgLAsNO2): number => nitrite
export const wantsN = (nitrite: MgLAsN): number => nitrite
wantsIon(typedIn)
wantsN(typedIn)

// @ts-expect-error Nitrogen is no nitrite ion: 3.28 times apart.
wantsIon(asN)
// @ts-expect-error Nor the other way round.
wantsN(asIon)
// @ts-expect-error Toxic ammonia is judged as NH3, not as nitrogen.
ammoniaTier(asN)
const toxic = 0.02 as MgLAsNH3
// @ts-expect-error NH3 is not total ammonia as nitrogen.
unionisedAmmonia({ tanMgLAsN: toxic, tempC: 25, pH: 8 })
unionisedAmmonia({ tanMgLAsN: ammoniaAsN({ ammoniaMgL: 1, basis: 'NH4' }), tempC: 25, pH: 8 })
// @ts-expect-error Nitrite as the ion has another name than nitrite as nitrogen.
nitrousAcid({ nitriteMgL: 1, tempC: 25, pH: 7 })
// @ts-expect-error A value as the ion does not fit where nitrogen is asked.
chlorideGuard({ nitriteMgLAsN: asIon, chlorideMgL: 5, volumeL: 100 })
// @ts-expect-error Ammonia is never counted as nitrite.
ammoniaFromN({ tanMgLAsN: asN, basis: 'NO2' })
// @ts-expect-error Nitrite is never counted as nitrate.
nitriteFromN({ nitriteMgLAsN: asN, basis: 'NO3' })
