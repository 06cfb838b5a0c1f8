import { saturatedKPa } from './heat.ts'

/** Equilibrium constants of the carbonate system at one temperature. */
type Constants = Readonly<{ first: number; second: number; water: number; gas: number }>

/**
 * Constants in mol/L and mol/(L atm) at zero ionic strength.
 * Source: pK1 Harned and Davis 1943, pK2 Harned and Scholes 1941, CO2 solubility Weiss 1974 at S = 0,
 * pKw 4470.99/T - 6.0875 + 0.01706 T (Harned and Owen, from memory).
 * Valid: 0 to 40 degC.
 */
function constantsAt(tempC: number): Constants {
  const kelvin = tempC + 273.15
  const hundred = kelvin / 100
  return {
    first: 10 ** -(3404.71 / kelvin + 0.032786 * kelvin - 14.8435),
    second: 10 ** -(2902.39 / kelvin + 0.02379 * kelvin - 6.498),
    water: 10 ** -(4470.99 / kelvin - 6.0875 + 0.01706 * kelvin),
    gas: Math.exp(-60.2409 + 93.4517 / hundred + 23.3585 * Math.log(hundred))
  }
}

let latest = constantsAt(25)
let latestC = 25
/** The constants of a temperature, kept for the next question about the very same one. */
function constantsNear(tempC: number): Constants {
  if (tempC === latestC) return latest
  latest = constantsAt(tempC)
  latestC = tempC
  return latest
}

/** Alkalinity that one mg of nitrogen takes or gives per acid set free, meq: one charge per 14.007 mg. */
export const meqPerMgN = 1 / 14.007
/** One German degree of carbonate hardness is 10 mg CaO/L, so 20/56.077 meq/L. */
export const meqPerDKh = 20 / 56.077

/** Charge carried at this acidity (H in mol/L) beyond the alkalinity, mol/L. It falls as H grows. */
function surplus(h: number, alkMolL: number, dicMolL: number, k: Constants): number {
  const charged = k.first * h + 2 * k.first * k.second
  return (dicMolL * charged) / (h * h + k.first * h + k.first * k.second) + k.water / h - h - alkMolL
}

/**
 * The pH of water from its alkalinity and its dissolved inorganic carbon.
 * Units: meq/L, mmol/L, degC. Alkalinity below zero means free acid.
 * Source: charge balance of the carbonate system; it rises with pH without a break, so halving finds it. A pH of a
 * moment ago is so near that one or two steps along the tangent do.
 * Exact to: 0.0001 pH.
 */
export function pHOf(
  given: Readonly<{ alkMeqL: number; dicMmolL: number; tempC: number; nearPH?: number }>
): number {
  const k = constantsNear(given.tempC)
  const alkMolL = given.alkMeqL / 1000
  const dicMolL = given.dicMmolL / 1000
  if (given.nearPH !== undefined) {
    const near = alongTangent(10 ** -given.nearPH, alkMolL, dicMolL, k)
    if (near !== null) return -Math.log10(near)
  }
  let low = 2
  let high = 12
  while (high - low > 1e-5) {
    const middle = (low + high) / 2
    if (surplus(10 ** -middle, alkMolL, dicMolL, k) > 0) high = middle
    else low = middle
  }
  return (low + high) / 2
}

/** Newton's steps in H; null where they do not settle at once. */
function alongTangent(from: number, alkMolL: number, dicMolL: number, k: Constants): number | null {
  let h = from
  for (let tries = 0; tries < 4; tries += 1) {
    const product = k.first * k.second
    const whole = h * h + k.first * h + product
    const charged = k.first * h + 2 * product
    const miss = (dicMolL * charged) / whole + k.water / h - h - alkMolL
    const slope =
      (dicMolL * (k.first * whole - charged * (2 * h + k.first))) / (whole * whole) - k.water / (h * h) - 1
    const next = h - miss / slope
    if (!(next > 0.5 * h && next < 2 * h)) return null
    if (Math.abs(next - h) < 1e-5 * h) return next
    h = next
  }
  return null
}

/** Dissolved inorganic carbon of water whose alkalinity and pH are known. Units: mmol/L from meq/L, pH, degC. */
export function dicOf(given: Readonly<{ alkMeqL: number; pH: number; tempC: number }>): number {
  const k = constantsNear(given.tempC)
  const h = 10 ** -given.pH
  const carbonMolL = given.alkMeqL / 1000 - k.water / h + h
  return (
    (1000 * carbonMolL * (h * h + k.first * h + k.first * k.second)) / (k.first * h + 2 * k.first * k.second)
  )
}

/** Dissolved CO2 gas in water. Units: mmol/L. */
export function co2Of(given: Readonly<{ dicMmolL: number; pH: number; tempC: number }>): number {
  const k = constantsNear(given.tempC)
  const h = 10 ** -given.pH
  return (given.dicMmolL * h * h) / (h * h + k.first * h + k.first * k.second)
}

/** CO2 that water holds in balance with moist air of one atmosphere. Units: mmol/L. */
export const co2AtAir = (given: Readonly<{ tempC: number; airPpm: number }>): number =>
  constantsNear(given.tempC).gas * given.airPpm * 1e-3 * (1 - saturatedKPa(given.tempC) / 101.325)
