import { type MgLAsN, meqLPerDKh, mgPerMgN } from './conversions.ts'
import { molarMass } from './molar-masses.ts'
import { type Answer, firstOutside, known } from './valid-range.ts'

const masses = 'molar masses, IUPAC 2021'
const volume = { low: 0.1, high: 10_000_000, unit: 'L', source: 'a jar up to a public aquarium' } as const
export const doseRanges = {
  volumeL: volume,
  targetMgLAsN: { low: 0, high: 100, unit: 'mg N/L', source: 'fishless cycling uses 1 to 5' },
  percent: {
    low: 1,
    high: 30,
    unit: '% by weight',
    source: 'density table of ammonia solutions (from memory)'
  }
} as const
export const dechlorinateRanges = {
  volumeL: volume,
  chlorineMgL: {
    low: 0,
    high: 100,
    unit: 'mg Cl2/L',
    source: 'tap water holds up to about 4, a shock dose 50'
  }
} as const

/** Density of ammonia solutions at 20 degC, kg/L by percent of weight (from memory, good to 0.002). */
const densities = [
  [0, 0.998],
  [5, 0.977],
  [10, 0.958],
  [15, 0.94],
  [20, 0.923],
  [25, 0.907],
  [30, 0.892]
] as const

/** Milligrams that make or take one milligram of another. Source: molar masses, IUPAC 2021. */
export const perMg = {
  ammoniumChloridePerN: molarMass.NH4Cl / molarMass.N,
  /** 2 S2O3 + Cl2 -> S4O6 + 2 Cl: the route that needs most, on which a safe dose rests. */
  thiosulfatePerCl2: (2 * molarMass.thiosulfatePentahydrate) / molarMass.Cl2,
  /** S2O3 + 4 Cl2 + 5 H2O -> 2 SO4 + 8 Cl + 10 H: the route that needs least. */
  thiosulfatePerCl2Fully: molarMass.thiosulfatePentahydrate / (4 * molarMass.Cl2),
  /** Chloramine tests count in Cl2, one Cl2 for each nitrogen. */
  nitrogenPerChloramineAsCl2: molarMass.N / molarMass.Cl2
} as const

/**
 * Says how much ammonium chloride brings so much ammonia.
 * Units: L, mg N/L -> g.
 * Valid: 0.1 to 10 000 000 L, 0 to 100 mg N/L.
 * Source: molar masses, IUPAC 2021 (3.819 mg NH4Cl per mg N).
 * Exact to: 3e-5 relative for the pure salt.
 */
export function ammoniumChlorideG(given: { volumeL: number; targetMgLAsN: MgLAsN }): Answer<number> {
  const { percent: _percent, ...ranges } = doseRanges
  const outside = firstOutside(given, ranges)
  return outside ?? known((given.volumeL * given.targetMgLAsN * perMg.ammoniumChloridePerN) / 1000)
}

/**
 * Says how much nitrogen a millilitre of ammonia solution holds.
 * Units: % by weight, or g in 100 mL where the label counts by volume -> mg N/mL.
 * Valid: 1 to 30 %.
 * Source: molar masses, IUPAC 2021; density table of ammonia solutions at 20 degC (from memory).
 * Exact to: 0.3 %; household products differ from their label by more.
 */
export function ammoniaSolutionNitrogen(given: { percent: number; by: 'weight' | 'volume' }): Answer<number> {
  const outside = firstOutside({ percent: given.percent }, { percent: doseRanges.percent })
  if (outside) return outside
  const nh3MgPerMl = given.percent * 10 * (given.by === 'weight' ? densityAt(given.percent) : 1)
  return known(nh3MgPerMl / mgPerMgN.NH3)
}

function densityAt(percent: number): number {
  const i = Math.min(densities.length - 2, Math.floor(percent / 5))
  const [[p0, d0], [p1, d1]] = densities.slice(i, i + 2) as unknown as [[number, number], [number, number]]
  return d0 + ((percent - p0) / (p1 - p0)) * (d1 - d0)
}

/**
 * Says how many millilitres of ammonia solution bring so much ammonia. Corrosive: gloves, goggles, open window, never mixed.
 * Units: L, mg N/L, % by weight -> mL.
 * Valid: 0.1 to 10 000 000 L, 0 to 100 mg N/L, 1 to 30 %.
 * Source: as `ammoniaSolutionNitrogen`.
 * Exact to: 0.3 % for the percentage given.
 */
export function ammoniaSolutionMl(given: {
  volumeL: number
  targetMgLAsN: MgLAsN
  percent: number
}): Answer<number> {
  const outside = firstOutside(given, doseRanges)
  if (outside) return outside
  const nitrogenMgPerMl = (given.percent * 10 * densityAt(given.percent)) / mgPerMgN.NH3
  return known((given.volumeL * given.targetMgLAsN) / nitrogenMgPerMl)
}

export type Dechlorination = Readonly<{ thiosulfatePentahydrateMg: number; ammoniaReleasedMgLAsN: MgLAsN }>

/**
 * Says how much sodium thiosulfate takes the chlorine away, and how much ammonia chloramine leaves behind.
 * Units: L, mg/L counted as Cl2 -> mg of the pentahydrate, mg N/L.
 * Valid: 0.1 to 10 000 000 L, 0 to 100 mg/L; the larger of two possible doses (7.0 : 1), practice uses 2 to 7 : 1.
 * Source: 2 S2O3(2-) + Cl2 -> S4O6(2-) + 2 Cl-; chloramine counted as Cl2, one nitrogen each; masses IUPAC 2021.
 * Exact to: 3e-5 relative for the reaction.
 */
export function dechlorinate(given: {
  volumeL: number
  chlorineMgL: number
  asChloramine: boolean
}): Answer<Dechlorination> {
  const { volumeL, chlorineMgL } = given
  const outside = firstOutside({ volumeL, chlorineMgL }, dechlorinateRanges)
  if (outside) return outside
  return known({
    thiosulfatePentahydrateMg: volumeL * chlorineMgL * perMg.thiosulfatePerCl2,
    ammoniaReleasedMgLAsN: given.asChloramine ? chlorineMgL * perMg.nitrogenPerChloramineAsCl2 : 0
  })
}

/**
 * Says how much baking soda lifts the KH. With ammonia in acid water do it by 1 dKH a day at most, see the cautions.
 * Units: L, dKH -> g NaHCO3.
 * Valid: 0.1 to 10 000 000 L, 0 to 20 dKH.
 * Source: molar masses, IUPAC 2021; one charge each.
 * Exact to: 3e-5 relative.
 */
export function bicarbonateG(given: { volumeL: number; riseDKh: number }): Answer<number> {
  const riseDKh = { low: 0, high: 20, unit: 'dKH', source: masses }
  const outside = firstOutside(given, { volumeL: volume, riseDKh })
  return outside ?? known((given.volumeL * given.riseDKh * meqLPerDKh * molarMass.NaHCO3) / 1000)
}
