import { evaporationKgPerM2H, evaporationW } from './heat.ts'
import type { TankDescription } from './tank-description.ts'

/** Vapour that still finds its way out under a lid. Common practice, no source. */
const lidLeakFrac = 0.1
/** Undisturbed water (Smith, Lof and Jones, abstract). */
const stillnessFrac = 0.74

type Warmth = Readonly<{ waterC: number; airC: number }>

/** Water that leaves a tank into the room. Units: kg/h. */
export function evaporationKgPerH(
  tank: Pick<TankDescription, 'surfaceM2' | 'room'>,
  given: Warmth & Readonly<{ lid: boolean }>
): number {
  if (tank.surfaceM2 === 0) return 0
  const { humidityFrac } = tank.room
  return (
    tank.surfaceM2 *
    (given.lid ? lidLeakFrac : 1) *
    evaporationKgPerM2H({ waterC: given.waterC, airC: given.airC, humidityFrac, stillnessFrac })
  )
}

/** What a heater must give to hold a tank at a temperature, W; below zero where the room is warm enough. */
export function powerToHoldW(
  tank: Pick<TankDescription, 'surfaceM2' | 'room' | 'lossWPerK' | 'pumpW' | 'lid'>,
  given: Warmth
): number {
  const goneKgH = evaporationKgPerH(tank, { ...given, lid: tank.lid })
  return tank.lossWPerK * (given.waterC - given.airC) + evaporationW(goneKgH, given.waterC) - tank.pumpW
}
