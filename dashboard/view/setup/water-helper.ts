/** Outside measures as a keeper can take them with a tape. */
export type TankMeasures = Readonly<{
  lengthCm: number
  widthCm: number
  heightCm: number
  glassMm: number
  freeEdgeCm: number
  gravelCm: number
}>

/** Stones fill about three fifths of a bed of gravel, water the rest. Common practice, no source. */
const stoneFrac = 0.6

/**
 * The water in a rectangular tank from its outside measures, or null where they leave no room for water.
 * Units: cm, glass in mm -> L.
 */
export function waterOfMeasures(tank: TankMeasures): number | null {
  const glassCm = tank.glassMm / 10
  const insideLengthCm = tank.lengthCm - 2 * glassCm
  const insideWidthCm = tank.widthCm - 2 * glassCm
  const waterCm = tank.heightCm - glassCm - tank.freeEdgeCm
  const areNumbers = Object.values(tank).every(Number.isFinite)
  const isPossible =
    areNumbers &&
    insideLengthCm > 0 &&
    insideWidthCm > 0 &&
    glassCm >= 0 &&
    tank.gravelCm >= 0 &&
    tank.freeEdgeCm >= 0
  if (!isPossible || waterCm <= tank.gravelCm) return null
  return (insideLengthCm * insideWidthCm * (waterCm - tank.gravelCm * stoneFrac)) / 1000
}
