import { molarMass } from './molar-masses.ts'

/**
 * Concentrations that carry what they are counted as. A plain number fits each of them,
 * one as nitrogen does not fit where one as the ion is asked.
 */
type CountedAs<What extends string> = number & { readonly countedAs?: What }
export type MgLAsN = CountedAs<'N'>
export type MgLAsNH3 = CountedAs<'NH3'>
export type MgLAsNH4 = CountedAs<'NH4'>
export type MgLAsNO2 = CountedAs<'NO2'>
export type MgLAsNO3 = CountedAs<'NO3'>
export type AmmoniaBasis = 'N' | 'NH3' | 'NH4'
export type NitriteBasis = 'N' | 'NO2'
export type NitrateBasis = 'N' | 'NO3'

/** Mass of each form that holds 1 mg of nitrogen. Source: molar masses (IUPAC 2021). */
export const mgPerMgN = {
  N: 1,
  NH3: molarMass.NH3 / molarMass.N,
  NH4: molarMass.NH4 / molarMass.N,
  NO2: molarMass.NO2 / molarMass.N,
  NO3: molarMass.NO3 / molarMass.N
} as const

/**
 * Turns a total ammonia result into nitrogen, whatever the kit counts it as.
 * Units: mg/L in the basis -> mg N/L.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative (the last digit of the atomic weights).
 */
export function ammoniaAsN(given: { ammoniaMgL: number; basis: AmmoniaBasis }): MgLAsN {
  return given.ammoniaMgL / mgPerMgN[given.basis]
}

/**
 * Turns total ammonia nitrogen into what a kit of that basis would show.
 * Units: mg N/L -> mg/L in the basis.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative.
 */
export function ammoniaFromN(given: { tanMgLAsN: MgLAsN; basis: AmmoniaBasis }): number {
  return given.tanMgLAsN * mgPerMgN[given.basis]
}

/**
 * Turns a nitrite result into nitrogen.
 * Units: mg/L in the basis -> mg N/L.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative.
 */
export function nitriteAsN(given: { nitriteMgL: number; basis: NitriteBasis }): MgLAsN {
  return given.nitriteMgL / mgPerMgN[given.basis]
}

/**
 * Turns nitrite nitrogen into what a kit of that basis would show.
 * Units: mg N/L -> mg/L in the basis.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative.
 */
export function nitriteFromN(given: { nitriteMgLAsN: MgLAsN; basis: NitriteBasis }): number {
  return given.nitriteMgLAsN * mgPerMgN[given.basis]
}

/**
 * Turns a nitrate result into nitrogen.
 * Units: mg/L in the basis -> mg N/L.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative.
 */
export function nitrateAsN(given: { nitrateMgL: number; basis: NitrateBasis }): MgLAsN {
  return given.nitrateMgL / mgPerMgN[given.basis]
}

/**
 * Turns nitrate nitrogen into what a kit of that basis would show.
 * Units: mg N/L -> mg/L in the basis.
 * Valid: any finite number.
 * Source: molar masses, IUPAC 2021 abridged standard atomic weights.
 * Exact to: 3e-5 relative.
 */
export function nitrateFromN(given: { nitrateMgLAsN: MgLAsN; basis: NitrateBasis }): number {
  return given.nitrateMgLAsN * mgPerMgN[given.basis]
}

/**
 * Turns an amount of nitrogen in mmol/L into mg N/L; every basis holds one nitrogen, so the basis plays no part.
 * Units: mmol/L -> mg N/L.
 * Valid: any finite number.
 * Source: molar mass of nitrogen 14.007 g/mol, IUPAC 2021.
 * Exact to: 1e-5 relative.
 */
export function nitrogenFromMmolL(mmolL: number): MgLAsN {
  return mmolL * molarMass.N
}

/** 1 German degree of carbonate hardness is 10 mg CaO/L. Source: definition, DIN 38409-6 (from memory). */
export const meqLPerDKh = 10 / (molarMass.CaO / 2)
export const ppmCaCO3PerDKh = meqLPerDKh * (molarMass.CaCO3 / 2)
export const hco3MgLPerDKh = meqLPerDKh * molarMass.HCO3

/**
 * Turns German degrees (of carbonate or of total hardness) into mg/L as calcium carbonate.
 * Units: dKH or dGH -> mg CaCO3/L (ppm).
 * Valid: any finite number.
 * Source: 1 degree = 10 mg CaO/L; molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function ppmFromDegrees(degrees: number): number {
  return degrees * ppmCaCO3PerDKh
}

/**
 * Turns mg/L as calcium carbonate into German degrees.
 * Units: mg CaCO3/L (ppm) -> dKH or dGH.
 * Valid: any finite number.
 * Source: 1 degree = 10 mg CaO/L; molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function degreesFromPpm(ppm: number): number {
  return ppm / ppmCaCO3PerDKh
}

/**
 * Turns German degrees into charge equivalents.
 * Units: dKH -> meq/L.
 * Valid: any finite number.
 * Source: 1 degree = 10 mg CaO/L, two charges each; molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function meqFromDegrees(degrees: number): number {
  return degrees * meqLPerDKh
}

/**
 * Turns charge equivalents into German degrees.
 * Units: meq/L -> dKH.
 * Valid: any finite number.
 * Source: 1 degree = 10 mg CaO/L, two charges each; molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function degreesFromMeq(meqL: number): number {
  return meqL / meqLPerDKh
}

/**
 * Turns German degrees of carbonate hardness into bicarbonate, were all of it bicarbonate.
 * Units: dKH -> mg HCO3-/L.
 * Valid: any finite number; near the truth between pH 6.5 and 9.
 * Source: 1 degree = 10 mg CaO/L; molar masses, IUPAC 2021.
 * Exact to: 3e-5 relative.
 */
export function bicarbonateFromDegrees(degrees: number): number {
  return degrees * hco3MgLPerDKh
}

export const zeroCelsiusK = 273.15

/**
 * Turns Celsius into kelvin.
 * Units: degC -> K.
 * Valid: any finite number.
 * Source: BIPM, The International System of Units, 9th edition 2019, 2.3.1 (T = t + 273.15 K).
 * Exact to: by definition.
 */
export function kelvinFromCelsius(tempC: number): number {
  return tempC + zeroCelsiusK
}

/**
 * Turns kelvin into Celsius.
 * Units: K -> degC.
 * Valid: any finite number.
 * Source: BIPM, The International System of Units, 9th edition 2019, 2.3.1.
 * Exact to: by definition.
 */
export function celsiusFromKelvin(tempK: number): number {
  return tempK - zeroCelsiusK
}

/**
 * Turns Celsius into Fahrenheit.
 * Units: degC -> degF.
 * Valid: any finite number.
 * Source: NIST Special Publication 811, 2008, B.9 (t/degC = (t/degF - 32)/1.8).
 * Exact to: by definition.
 */
export function fahrenheitFromCelsius(tempC: number): number {
  return tempC * 1.8 + 32
}

/**
 * Turns Fahrenheit into Celsius.
 * Units: degF -> degC.
 * Valid: any finite number.
 * Source: NIST Special Publication 811, 2008, B.9.
 * Exact to: by definition.
 */
export function celsiusFromFahrenheit(tempF: number): number {
  return (tempF - 32) / 1.8
}

export const litresPerUsGallon = 3.785411784
export const litresPerImperialGallon = 4.54609

/**
 * Turns US gallons into litres.
 * Units: US gal -> L.
 * Valid: any finite number.
 * Source: NIST Handbook 44, Appendix C (231 cubic inches = 3.785411784 L).
 * Exact to: by definition.
 */
export function litresFromUsGallons(gallons: number): number {
  return gallons * litresPerUsGallon
}

/**
 * Turns litres into US gallons.
 * Units: L -> US gal.
 * Valid: any finite number.
 * Source: NIST Handbook 44, Appendix C.
 * Exact to: by definition.
 */
export function usGallonsFromLitres(litres: number): number {
  return litres / litresPerUsGallon
}

/**
 * Turns imperial gallons into litres.
 * Units: imp gal -> L.
 * Valid: any finite number.
 * Source: The Units of Measurement Regulations 1995 (United Kingdom), Schedule (4.54609 L).
 * Exact to: by definition.
 */
export function litresFromImperialGallons(gallons: number): number {
  return gallons * litresPerImperialGallon
}

/**
 * Turns litres into imperial gallons.
 * Units: L -> imp gal.
 * Valid: any finite number.
 * Source: The Units of Measurement Regulations 1995 (United Kingdom), Schedule.
 * Exact to: by definition.
 */
export function imperialGallonsFromLitres(litres: number): number {
  return litres / litresPerImperialGallon
}
