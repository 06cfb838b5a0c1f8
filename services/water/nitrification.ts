import { type MgLAsN, meqLPerDKh, ppmCaCO3PerDKh } from './conversions.ts'
import { molarMass } from './molar-masses.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const textbook = 'NH4+ + 1.5 O2 -> NO2- + 2 H+ + H2O; NO2- + 0.5 O2 -> NO3-, no growth counted'
const amount = { low: 0, high: 10_000, unit: 'mg N/L', source: textbook } as const
export const nitrificationRanges = { ammoniaToNitriteMgLAsN: amount, nitriteToNitrateMgLAsN: amount } as const

/** What one gram of nitrogen costs on its way. Source: the two reactions above with IUPAC 2021 molar masses. */
export const perGramN = {
  /** Alkalinity as calcium carbonate: two charges, all of them in the first step. */
  alkalinityGCaCO3: (2 / molarMass.N) * (molarMass.CaCO3 / 2),
  khDKhPerMgL: 2 / molarMass.N / meqLPerDKh,
  oxygenFirstStepG: (1.5 * molarMass.O2) / molarMass.N,
  oxygenSecondStepG: (0.5 * molarMass.O2) / molarMass.N
} as const

export type NitrificationCost = Readonly<{ khDKh: number; alkalinityPpmCaCO3: number; oxygenMgL: number }>
type Steps = { ammoniaToNitriteMgLAsN: MgLAsN; nitriteToNitrateMgLAsN: MgLAsN }

/**
 * Says what turning ammonia into nitrite and nitrite into nitrate costs the water. All acid comes from the first step.
 * Units: mg N/L of each step -> dKH, mg CaCO3/L, mg O2/L.
 * Valid: 0 to 10 000 mg N/L.
 * Source: NH4+ + 1.5 O2 -> NO2- + 2 H+ + H2O; NO2- + 0.5 O2 -> NO3-; molar masses IUPAC 2021.
 * Exact to: 1e-4; with growth of the bacteria about 1 % less alkalinity and 5 % less oxygen (Gujer & Jenkins 1974).
 */
export function nitrificationCost(given: Steps): Answer<NitrificationCost> {
  const outside = firstOutside(given, nitrificationRanges)
  if (outside) return outside
  const khDKh = given.ammoniaToNitriteMgLAsN * perGramN.khDKhPerMgL
  return known({
    khDKh,
    alkalinityPpmCaCO3: khDKh * ppmCaCO3PerDKh,
    oxygenMgL:
      given.ammoniaToNitriteMgLAsN * perGramN.oxygenFirstStepG +
      given.nitriteToNitrateMgLAsN * perGramN.oxygenSecondStepG
  })
}
