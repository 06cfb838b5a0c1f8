/**
 * Molar masses in g/mol, summed from the abridged standard atomic weights
 * (IUPAC 2021, Standard atomic weights of the elements, Pure Appl. Chem. 94:573; values as given there to five digits).
 */
const H = 1.008
const C = 12.011
const N = 14.007
const O = 15.999
const NA = 22.99
const S = 32.06
const CL = 35.45
const CA = 40.078

export const molarMass = {
  C,
  N,
  Cl: CL,
  NH3: N + 3 * H,
  NH4: N + 4 * H,
  NO2: N + 2 * O,
  NO3: N + 3 * O,
  O2: 2 * O,
  CO2: C + 2 * O,
  HCO3: H + C + 3 * O,
  CaO: CA + O,
  CaCO3: CA + C + 3 * O,
  Cl2: 2 * CL,
  NaCl: NA + CL,
  NH4Cl: N + 4 * H + CL,
  NaHCO3: NA + H + C + 3 * O,
  thiosulfatePentahydrate: 2 * NA + 2 * S + 3 * O + 5 * (2 * H + O)
} as const
