import { type Answer, firstOutside, known, refused, type ValidRange } from './valid-range.ts'

const newton = 'Newton cooling: T = Ta + P/UA + (T0 - Ta - P/UA) exp(-t UA/C)'
const celsius: ValidRange = { low: -10, high: 60, unit: 'degC', source: newton }
const litres: ValidRange = { low: 0.1, high: 10_000_000, unit: 'L', source: 'a jar up to a public aquarium' }
const leak: ValidRange = { low: 0.01, high: 1_000_000, unit: 'W/K', source: newton }
const power: ValidRange = { low: 0, high: 1_000_000, unit: 'W', source: newton }
const duration: ValidRange = { low: 0, high: 10_000, unit: 'h', source: newton }
const slowness: ValidRange = { low: 0.01, high: 100_000, unit: 'h', source: newton }
export const heatRanges = {
  startC: celsius,
  roomC: celsius,
  untilC: celsius,
  volumeL: litres,
  uaWPerK: leak,
  heaterW: power,
  hours: duration,
  tauH: slowness
} as const

/** Heat that warms one litre by one kelvin: 4.181 kJ/(kg K) x 0.997 kg/L at 25 degC (from memory). */
export const heatCapacityKJPerLK = 4.168

/**
 * Says how slowly a tank follows its room: the hours after which 37 % of a difference is left.
 * Units: L of water, W/K -> h.
 * Valid: 0.1 to 10 000 000 L, 0.01 to 1 000 000 W/K.
 * Source: C/UA with C = 4.168 kJ/(L K); net water is 80 to 90 % of the glass box.
 * Exact to: 0.1 % in C; UA is rarely known better than 20 %.
 */
export function tauHours(given: { volumeL: number; uaWPerK: number }): Answer<number> {
  const outside = firstOutside(given, { volumeL: litres, uaWPerK: leak })
  return outside ?? known((heatCapacityKJPerLK * given.volumeL) / given.uaWPerK / 3.6)
}

/**
 * Says how warm the water is some hours after the heater went off.
 * Units: degC, h -> degC.
 * Valid: -10 to 60 degC, 0 to 10 000 h, tau 0.01 to 100 000 h; evaporation lets open water settle 1 to 2 K below the room.
 * Source: Newton cooling.
 * Exact to: double precision for the formula.
 */
export function coolingTemp(given: {
  startC: number
  roomC: number
  tauH: number
  hours: number
}): Answer<number> {
  const outside = firstOutside(given, { startC: celsius, roomC: celsius, tauH: slowness, hours: duration })
  return outside ?? known(given.roomC + (given.startC - given.roomC) * Math.exp(-given.hours / given.tauH))
}

/**
 * Says how many hours it takes from one temperature to another without heater.
 * Units: degC, h -> h.
 * Valid: as `coolingTemp`; the goal must lie on the way, at least 0.01 K before the room.
 * Source: Newton cooling, turned round.
 * Exact to: double precision against `coolingTemp`.
 */
export function coolingHours(given: {
  startC: number
  roomC: number
  tauH: number
  untilC: number
}): Answer<number> {
  const outside = firstOutside(given, { startC: celsius, roomC: celsius, tauH: slowness, untilC: celsius })
  return outside ?? hoursOnTheWay({ ...given, restC: given.roomC })
}

/** Hours from start to goal while the water heads for a rest it never quite reaches. */
function hoursOnTheWay(given: {
  startC: number
  untilC: number
  restC: number
  tauH: number
}): Answer<number> {
  const { startC, untilC, restC, tauH } = given
  if (untilC === startC) return known(0)
  const last = restC + Math.sign(startC - restC) * 0.01
  const [low, high] = startC > restC ? [last, startC] : [startC, last]
  const onTheWay = untilC >= low && untilC <= high
  if (!onTheWay)
    return refused('untilC', untilC, {
      low,
      high,
      unit: 'degC',
      source: 'only what lies on the way is reached'
    })
  return known(tauH * Math.log((startC - restC) / (untilC - restC)))
}

/**
 * Learns how much heat a tank loses from one stretch of cooling.
 * Units: degC, h, L -> W/K.
 * Valid: water that moves towards the room without reaching it (0.01 K), more than 0 h.
 * Source: Newton cooling: C ln((T0 - Ta)/(T1 - Ta))/t.
 * Exact to: double precision; evaporation makes Ta look 1 to 2 K lower.
 */
export function uaFromCooling(given: {
  startC: number
  endC: number
  roomC: number
  hours: number
  volumeL: number
}): Answer<number> {
  const { startC, endC, roomC, hours, volumeL } = given
  const passed = { ...duration, low: 0.01 }
  const outside = firstOutside(given, {
    startC: celsius,
    endC: celsius,
    roomC: celsius,
    hours: passed,
    volumeL: litres
  })
  if (outside) return outside
  const inTaus = hoursOnTheWay({ startC, untilC: endC, restC: roomC, tauH: 1 })
  if (!inTaus.ok) return refused('endC', endC, inTaus.outOfRange)
  return known((heatCapacityKJPerLK * volumeL * inTaus.value) / hours / 3.6)
}

/**
 * Says where the water settles while the heater runs without pause.
 * Units: degC, W/K, W -> degC.
 * Valid: -10 to 60 degC room, 0.01 to 1 000 000 W/K, 0 to 1 000 000 W.
 * Source: Newton cooling at rest: Ta + P/UA.
 * Exact to: double precision for the formula.
 */
export function settlingTemp(given: { roomC: number; uaWPerK: number; heaterW: number }): Answer<number> {
  const outside = firstOutside(given, { roomC: celsius, uaWPerK: leak, heaterW: power })
  return outside ?? known(given.roomC + given.heaterW / given.uaWPerK)
}

/**
 * Says how long a heater that never switches off takes to a given temperature.
 * Units: degC, L, W/K, W -> h.
 * Valid: the goal must lie between start and the temperature where the water settles.
 * Source: Newton cooling with heat: tau ln((Ts - T0)/(Ts - T1)), Ts = Ta + P/UA.
 * Exact to: double precision for the formula.
 */
export function heatingHours(given: {
  startC: number
  untilC: number
  roomC: number
  volumeL: number
  uaWPerK: number
  heaterW: number
}): Answer<number> {
  const { volumeL, uaWPerK, heaterW, roomC, startC, untilC } = given
  const outside = firstOutside(given, {
    startC: celsius,
    untilC: celsius,
    roomC: celsius,
    volumeL: litres,
    uaWPerK: leak,
    heaterW: power
  })
  if (outside) return outside
  const tauH = (heatCapacityKJPerLK * volumeL) / uaWPerK / 3.6
  return hoursOnTheWay({ startC, untilC, restC: roomC + heaterW / uaWPerK, tauH })
}

/**
 * Says how long a heater takes for a rise in temperature were nothing lost on the way: the shortest it can be.
 * Units: L, W, K -> h.
 * Valid: 0.1 to 10 000 000 L, 0.1 to 1 000 000 W, 0 to 50 K.
 * Source: C dT/P with C = 4.168 kJ/(L K).
 * Exact to: 0.1 %.
 */
export function warmingHours(given: { volumeL: number; heaterW: number; riseK: number }): Answer<number> {
  const outside = firstOutside(given, {
    volumeL: litres,
    heaterW: { ...power, low: 0.1 },
    riseK: { low: 0, high: 50, unit: 'K', source: newton }
  })
  return outside ?? known((heatCapacityKJPerLK * given.volumeL * given.riseK) / given.heaterW / 3.6)
}

/**
 * Says what share of the time a heater must run to hold a temperature; above 1 it cannot.
 * Units: degC, W/K, W -> share.
 * Valid: -10 to 60 degC, heater 0.1 W and more; 0 where the room is as warm or warmer.
 * Source: heat balance at rest: UA (T - Ta)/P.
 * Exact to: double precision for the formula.
 */
export function heaterDuty(given: {
  setpointC: number
  roomC: number
  uaWPerK: number
  heaterW: number
}): Answer<number> {
  const outside = firstOutside(given, {
    setpointC: celsius,
    roomC: celsius,
    uaWPerK: leak,
    heaterW: { ...power, low: 0.1 }
  })
  return outside ?? known((given.uaWPerK * Math.max(0, given.setpointC - given.roomC)) / given.heaterW)
}

/**
 * Says how much heat a square metre of wall lets through.
 * Units: W/(m2 K) inside and outside, m, W/(m K) -> W/(m2 K).
 * Valid: films 0.1 to 10 000, wall 0.0001 to 1 m, conductivity 0.01 to 500.
 * Source: resistances in series, 1/(1/h_in + d/k + 1/h_out); 300 and 8 for still water and room air (from memory).
 * Exact to: double precision; the films are known to about 20 %.
 */
export function wallTransmittance(given: {
  insideFilm: number
  thicknessM: number
  conductivity: number
  outsideFilm: number
}): Answer<number> {
  const series = 'resistances in series'
  const film = { low: 0.1, high: 10_000, unit: 'W/(m2 K)', source: series }
  const outside = firstOutside(given, {
    insideFilm: film,
    outsideFilm: film,
    thicknessM: { low: 0.0001, high: 1, unit: 'm', source: series },
    conductivity: { low: 0.01, high: 500, unit: 'W/(m K)', source: series }
  })
  return (
    outside ??
    known(1 / (1 / given.insideFilm + given.thicknessM / given.conductivity + 1 / given.outsideFilm))
  )
}
