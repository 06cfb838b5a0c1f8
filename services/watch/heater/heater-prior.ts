/** What can be said of a tank's warmth before it was ever watched. */
export type HeaterPrior = Readonly<{
  /** Time in which still water loses 63 % of its gap to the room, hours. */
  coolingH: number
  /** What the heater adds while it is on, K/h. */
  heatingPerH: number
  /** One standard deviation of the doubt in it, as a share: the told watts and litres are round numbers. */
  heatingDoubtFrac: number
  /** How far the heater can lift the water above where it would settle, kelvin. */
  liftK: number
  /** Null also where no heater is told of: one that nobody spoke of is judged only by what it has shown. */
  setpointC: number | null
  roomC: number
  isRoomTold: boolean
}>

/** A litre of water takes 1.161 Wh to warm by a kelvin: 4.19 kJ/(kg K) times 0.997 kg/L (from memory). */
const wattHoursPerLitreK = 1.161

/** A usual living room. Common practice, no source. */
const usualRoomC = 20.5
/** Heaters are sold at about a watt a litre; where none is told, that is the guess. Common practice, no source. */
const usualWattsPerLitre = 1

/**
 * What volume and wattage tell of a tank, so that it is judged from its first day; null where it has no heater.
 * Units: L, W, degC; hours, K/h.
 * Valid: glass tanks of 10 to 1000 L; the loss is good to about half.
 * Source: energy balance C dT/dt = P - UA (T - Ta); UA as a power law through 3.0 W/K at 20 L and 12.9 W/K at
 *   200 L, from the areas of glass tanks and 8 W/m2K at the sides, 2 below, 5 above (computed); an open surface
 *   loses about 1.4 times that (common practice, no source).
 * Exact to: the told volume and wattage.
 */
export function heaterPrior(
  tank: Readonly<{
    volumeL: number
    watts: number | null
    setpointC?: number | undefined
    roomC?: number | undefined
    lid?: boolean | undefined
  }>
): HeaterPrior | null {
  const { volumeL, watts } = tank
  if (watts === 0) return null
  const wattHoursPerK = wattHoursPerLitreK * volumeL
  const lossWPerK = 3 * (volumeL / 20) ** 0.6335 * (tank.lid === false ? 1.4 : 1)
  const coolingH = wattHoursPerK / lossWPerK
  const heatingPerH = (watts ?? usualWattsPerLitre * volumeL) / wattHoursPerK
  return {
    coolingH,
    heatingPerH,
    heatingDoubtFrac: watts === null ? 0.35 : 0.1,
    liftK: heatingPerH * coolingH,
    setpointC: watts === null ? null : (tank.setpointC ?? null),
    roomC: tank.roomC ?? usualRoomC,
    isRoomTold: tank.roomC !== undefined
  }
}
