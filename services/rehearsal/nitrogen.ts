/** Where the nitrogen of a tank is, mg N in the whole tank, and the nitrifiers that live on it, mg dry mass. */
export type NitrogenPools = {
  /** Uneaten food, faeces, dead leaves. */
  wasteMg: number
  /** Eaten and on its way through the fish: two stages, so that ammonia peaks hours after a meal. */
  gutFirstMg: number
  gutSecondMg: number
  /** Built into the fish. Hunger takes from here. */
  fishMg: number
  tanMg: number
  nitriteMg: number
  nitrateMg: number
  plantMg: number
  ammoniaOxidisersMg: number
  nitriteOxidisersMg: number
}

/** One guild of nitrifiers at 25 °C. */
export type Guild = Readonly<{
  muPerDay: number
  halfMgL: number
  /** Dry mass grown per nitrogen oxidised, mg/mg. */
  yieldFrac: number
  decayPerDay: number
  activationKJPerMol: number
}>
export type Kinetics = Readonly<{ ammoniaOxidisers: Guild; nitriteOxidisers: Guild }>

/** Where and how it happens in one step. */
export type NitrogenPlace = Readonly<{
  volumeL: number
  tempC: number
  pH: number
  /** 1 with a running filter, near 0 with a stopped one. */
  flowFrac: number
  /** What hungry plants would take if they found it, mg N a day in the whole tank. */
  plantUptakeMgPerDay: number
  /** What fasting fish give off, mg N a day. */
  fastingMgPerDay: number
}>

/** What moved in one step, mg N. */
export type NitrogenMoved = Readonly<{
  nitritatedMg: number
  nitratatedMg: number
  ammonifiedMg: number
  plantTanMg: number
  plantNitrateMg: number
}>

/**
 * Invented within the published ranges: growth 0.2 to 1.5 a day, half saturation 0.1 to 2.4 mg N/L, yields 0.05 to
 * 0.24, decay 0.014 to 0.17 a day (Metcalf & Eddy table 8-14; Sin et al. 2008; Blackburne et al. 2007).
 * Activation energies 68 and 44 kJ/mol: Hellinga et al. 1998.
 */
export const usualKinetics: Kinetics = {
  ammoniaOxidisers: {
    muPerDay: 0.78,
    halfMgL: 0.3,
    yieldFrac: 0.15,
    decayPerDay: 0.05,
    activationKJPerMol: 68
  },
  nitriteOxidisers: {
    muPerDay: 0.7,
    halfMgL: 0.35,
    yieldFrac: 0.05,
    decayPerDay: 0.05,
    activationKJPerMol: 44
  }
}

/** Growth against that at 25 °C. Units: degC. Source: Arrhenius' law; above 35 °C it would be too high. */
export function temperatureFactor(tempC: number, activationKJPerMol: number): number {
  const kelvin = tempC + 273.15
  return Math.exp((activationKJPerMol * 1000 * (kelvin - 298.15)) / (8.314462618 * kelvin * 298.15))
}

/** Growth against that of neutral water: 1 - 0.833 (7.2 - pH) below 7.2 (EPA form in Metcalf & Eddy), never below 0. */
export const acidFactor = (pH: number): number => (pH >= 7.2 ? 1 : Math.max(0, 1 - 0.833 * (7.2 - pH)))

const gutPerDay = 24 / 2.2
const wasteDecayPerDay = 0.5

/** Moves the nitrogen of one short step from pool to pool, in place; what leaves one arrives in another. */
export function moveNitrogen(
  pools: NitrogenPools,
  place: NitrogenPlace,
  days: number,
  kinetics: Kinetics = usualKinetics
): NitrogenMoved {
  const decayedMg = pools.wasteMg * wasteDecayPerDay * temperatureFactor(place.tempC, 50) * days
  const digestedMg = pools.gutFirstMg * gutPerDay * days
  const excretedMg = pools.gutSecondMg * gutPerDay * days
  const fastingMg = place.fastingMgPerDay * days
  pools.wasteMg -= decayedMg
  pools.gutFirstMg -= digestedMg
  pools.gutSecondMg += digestedMg - excretedMg
  pools.fishMg -= fastingMg
  const ammonifiedMg = decayedMg + excretedMg + fastingMg
  pools.tanMg += ammonifiedMg

  const acid = acidFactor(place.pH) * place.flowFrac
  const nitritatedMg = oxidise(
    pools.tanMg,
    pools.ammoniaOxidisersMg,
    kinetics.ammoniaOxidisers,
    place,
    acid * days
  )
  const nitratatedMg = oxidise(
    pools.nitriteMg,
    pools.nitriteOxidisersMg,
    kinetics.nitriteOxidisers,
    place,
    acid * days
  )
  pools.ammoniaOxidisersMg += grown(nitritatedMg, pools.ammoniaOxidisersMg, kinetics.ammoniaOxidisers, days)
  pools.nitriteOxidisersMg += grown(nitratatedMg, pools.nitriteOxidisersMg, kinetics.nitriteOxidisers, days)
  pools.tanMg -= nitritatedMg
  pools.nitriteMg += nitritatedMg - nitratatedMg
  pools.nitrateMg += nitratatedMg

  const plantTanMg = taken(pools.tanMg, place, 0.05, days)
  pools.tanMg -= plantTanMg
  const hungerMg = place.plantUptakeMgPerDay * days - plantTanMg
  const plantNitrateMg = taken(
    pools.nitrateMg,
    { ...place, plantUptakeMgPerDay: hungerMg / Math.max(days, 1e-12) },
    0.5,
    days
  )
  pools.nitrateMg -= plantNitrateMg
  pools.plantMg += plantTanMg + plantNitrateMg
  return { nitritatedMg, nitratatedMg, ammonifiedMg, plantTanMg, plantNitrateMg }
}

/** All nitrogen in the tank, mg. */
export const heldMg = (pools: NitrogenPools): number =>
  pools.wasteMg +
  pools.gutFirstMg +
  pools.gutSecondMg +
  pools.fishMg +
  pools.tanMg +
  pools.nitriteMg +
  pools.nitrateMg +
  pools.plantMg

function oxidise(
  foodMg: number,
  guildMg: number,
  guild: Guild,
  place: NitrogenPlace,
  effectiveDays: number
): number {
  const foodMgL = foodMg / place.volumeL
  const perDay =
    ((guild.muPerDay * temperatureFactor(place.tempC, guild.activationKJPerMol)) / guild.yieldFrac) *
    (foodMgL / (guild.halfMgL + foodMgL)) *
    guildMg
  return Math.min(foodMg, perDay * effectiveDays)
}

const grown = (oxidisedMg: number, guildMg: number, guild: Guild, days: number): number =>
  oxidisedMg * guild.yieldFrac - guildMg * guild.decayPerDay * days

function taken(foodMg: number, place: NitrogenPlace, halfMgL: number, days: number): number {
  const foodMgL = foodMg / place.volumeL
  return Math.min(foodMg, place.plantUptakeMgPerDay * days * (foodMgL / (halfMgL + foodMgL)))
}
