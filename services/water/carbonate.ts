import { carbonateTempRange, equilibriumAt } from './carbonate-constants.ts'
import { meqLPerDKh } from './conversions.ts'
import { molarMass } from './molar-masses.ts'
import { type Answer, firstOutside, known, refused } from './valid-range.ts'
import { vapourPressureAtmAt } from './vapour-pressure.ts'

const dilute =
  'activity taken as 1 (Plummer & Busenberg 1982 constants): pH off by up to 0.04 at 0.005 mol/L of ions, more above'
const balance = 'charge balance of carbonate water: KH = HCO3 + 2 CO3 + OH - H'
export const carbonateRanges = {
  khDKh: { low: 0, high: 50, unit: 'dKH', source: dilute },
  pH: { low: 4, high: 11, unit: 'pH', source: dilute },
  tempC: carbonateTempRange
} as const
export const airRanges = {
  khDKh: carbonateRanges.khDKh,
  tempC: carbonateTempRange,
  co2Ppm: {
    low: 10,
    high: 100_000,
    unit: 'ppm',
    source: 'air as it occurs: outdoors about 420, indoors to 5000'
  },
  pressureAtm: { low: 0.5, high: 1.1, unit: 'atm', source: 'air pressure from sea level to about 5000 m' }
} as const
const co2Range = {
  low: 0,
  high: 2000,
  unit: 'mg/L',
  source: 'about what water takes up from pure carbon dioxide'
}
const dicRange = { low: 0, high: 100, unit: 'mmol/L', source: dilute }

export type Speciation = Readonly<{ co2MgL: number; dicMmolL: number; hco3MmolL: number; co3MmolL: number }>

/**
 * Says how much carbon dioxide is dissolved, from KH, pH and temperature.
 * Units: dKH, pH, degC -> mg CO2/L, mmol/L.
 * Valid: 0 to 50 dKH, pH 4 to 11, 0 to 50 degC, KH at least what OH- alone makes up at that
 *   pH, carbon dioxide at most what pure gas would give. KH tests count
 *   phosphate, borate and humic acids too: where those buffer, the answer is too high.
 * Source: Plummer & Busenberg 1982 constants; HCO3 = (Alk - Kw/H + H)/(1 + 2 K2/H), CO2 = HCO3 H/K1.
 * Exact to: 0.5 % of an independent speciation at the same constants and activity 1.
 */
export function co2FromKh(given: { khDKh: number; pH: number; tempC: number }): Answer<Speciation> {
  const outside = firstOutside(given, carbonateRanges)
  if (outside) return outside
  const { K1, K2, Kw } = equilibriumAt(given.tempC)
  const h = 10 ** -given.pH
  const hco3 = (given.khDKh * meqLPerDKh * 1e-3 - Kw / h + h) / (1 + (2 * K2) / h)
  if (hco3 < 0) {
    const low = ((Kw / h - h) * 1e3) / meqLPerDKh
    return refused('khDKh', given.khDKh, { ...carbonateRanges.khDKh, low, source: balance })
  }
  const co2 = (hco3 * h) / K1
  const co2MgL = co2 * molarMass.CO2 * 1e3
  if (co2MgL > co2Range.high) {
    const alkMol = given.khDKh * meqLPerDKh * 1e-3
    const low = phOfCo2({ alkMol, co2Mol: co2Range.high / molarMass.CO2 / 1e3, tempC: given.tempC })
    return refused('pH', given.pH, { ...carbonateRanges.pH, low, source: co2Range.source })
  }
  const co3 = (hco3 * K2) / h
  return known({
    co2MgL,
    dicMmolL: (co2 + hco3 + co3) * 1e3,
    hco3MmolL: hco3 * 1e3,
    co3MmolL: co3 * 1e3
  })
}

/**
 * The rule of thumb for carbon dioxide, kept beside the exact answer to show how far off it is.
 * Units: dKH, pH -> mg CO2/L.
 * Valid: 0 to 50 dKH, pH 6 to 9.
 * Source: common practice: 3 KH 10^(7 - pH).
 * Exact to: reads 14 to 21 % low against the exact form between 20 and 25 degC up to pH 8.
 */
export function co2ByShortcut(given: { khDKh: number; pH: number }): Answer<number> {
  const pH = { low: 6, high: 9, unit: 'pH', source: 'common practice, no source' }
  const outside = firstOutside(given, { khDKh: carbonateRanges.khDKh, pH })
  return outside ?? known(3 * given.khDKh * 10 ** (7 - given.pH))
}

/**
 * Says how much carbon dioxide water holds when it is at rest with the air above it.
 * Units: degC, ppm in dry air, atm -> mg CO2/L.
 * Valid: 0 to 50 degC, 10 to 100 000 ppm, 0.5 to 1.1 atm.
 * Source: Henry's law, Plummer & Busenberg 1982: KH x ppm x (P - pH2O).
 * Exact to: 0.01 mg/L at 420 ppm.
 */
export function co2AtAir(given: {
  tempC: number
  co2Ppm: number
  pressureAtm?: number | undefined
}): Answer<number> {
  const { tempC, co2Ppm, pressureAtm = 1 } = given
  const { khDKh: _kh, ...ranges } = airRanges
  const outside = firstOutside({ tempC, co2Ppm, pressureAtm }, ranges)
  return outside ?? known(co2MolAtAir({ tempC, co2Ppm, pressureAtm }) * molarMass.CO2 * 1e3)
}

function co2MolAtAir(given: { tempC: number; co2Ppm: number; pressureAtm: number }): number {
  const { KH } = equilibriumAt(given.tempC)
  return KH * given.co2Ppm * 1e-6 * (given.pressureAtm - vapourPressureAtmAt(given.tempC))
}

/**
 * Says at which pH water of a given KH comes to rest with the air; a tank with fish lies 0.3 to 1 below it.
 * Units: dKH, degC, ppm in dry air, atm -> pH.
 * Valid: 0 to 50 dKH, 0 to 50 degC, 10 to 100 000 ppm, 0.5 to 1.1 atm.
 * Source: Alk = K1 C/H + 2 K1 K2 C/H^2 + Kw/H - H with Plummer & Busenberg 1982 constants.
 * Exact to: 1e-9 in solving; 0.01 against an independent speciation at activity 1.
 */
export function phAtAir(given: {
  khDKh: number
  tempC: number
  co2Ppm: number
  pressureAtm?: number | undefined
}): Answer<number> {
  const all = { ...given, pressureAtm: given.pressureAtm ?? 1 }
  const outside = firstOutside(all, airRanges)
  if (outside) return outside
  return known(
    phOfCo2({ alkMol: given.khDKh * meqLPerDKh * 1e-3, co2Mol: co2MolAtAir(all), tempC: given.tempC })
  )
}

/**
 * Says the pH of water of a given KH that holds so much dissolved carbon dioxide.
 * Units: dKH, mg CO2/L, degC -> pH.
 * Valid: 0 to 50 dKH, 0 to 3500 mg CO2/L, 0 to 50 degC.
 * Source: the same charge balance with Plummer & Busenberg 1982 constants.
 * Exact to: 1e-9 in solving.
 */
export function phFromCo2(given: { khDKh: number; co2MgL: number; tempC: number }): Answer<number> {
  const { khDKh, tempC } = carbonateRanges
  const outside = firstOutside(given, { khDKh, co2MgL: co2Range, tempC })
  if (outside) return outside
  const co2Mol = given.co2MgL / molarMass.CO2 / 1e3
  return known(phOfCo2({ alkMol: given.khDKh * meqLPerDKh * 1e-3, co2Mol, tempC: given.tempC }))
}

/**
 * Says the pH of water of a given KH and total dissolved carbon, nothing entering or leaving.
 * Units: dKH, mmol/L, degC -> pH.
 * Valid: 0 to 50 dKH, 0 to 100 mmol/L, 0 to 50 degC.
 * Source: charge balance with Plummer & Busenberg 1982 constants.
 * Exact to: 1e-9 in solving.
 */
export function phFromDic(given: { khDKh: number; dicMmolL: number; tempC: number }): Answer<number> {
  const { khDKh, tempC } = carbonateRanges
  const outside = firstOutside(given, { khDKh, dicMmolL: dicRange, tempC })
  if (outside) return outside
  return known(phFromDicAt(given))
}

/**
 * The same without range check, for formulas that have checked already.
 * Units: dKH, mmol/L, degC -> pH.
 * Valid: as `phFromDic`, by the caller's word.
 * Source: as above.
 * Exact to: as above.
 */
export function phFromDicAt(given: { khDKh: number; dicMmolL: number; tempC: number }): number {
  const { K1, K2, Kw } = equilibriumAt(given.tempC)
  const alk = given.khDKh * meqLPerDKh * 1e-3
  const dic = given.dicMmolL * 1e-3
  return rootPH((h) => (dic * K1 * (h + 2 * K2)) / (h * h + K1 * h + K1 * K2) + Kw / h - h - alk)
}

function phOfCo2(given: { alkMol: number; co2Mol: number; tempC: number }): number {
  const { K1, K2, Kw } = equilibriumAt(given.tempC)
  const { alkMol, co2Mol } = given
  return rootPH((h) => (K1 * co2Mol) / h + (2 * K1 * K2 * co2Mol) / (h * h) + Kw / h - h - alkMol)
}

/** Halves pH 2 to 13 until the charge balances; the balance rises with pH all the way, so there is one root. */
function rootPH(charge: (h: number) => number): number {
  let low = 2
  let high = 13
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2
    if (charge(10 ** -middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}
