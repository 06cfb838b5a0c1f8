import type { HeaterDescription } from './heater.ts'
import type { ProbeDescription } from './probe.ts'
import type { RoomDescription } from './room.ts'

export type PlantLevel = 'none' | 'few' | 'many'

/** Water as it comes: from the tap, or standing in the tank at the start. */
export type Water = Readonly<{
  tempC: number
  khDKh: number
  pH: number
  tanMgLAsN: number
  nitriteMgLAsN: number
  nitrateMgLAsN: number
}>

/** Everything that makes one virtual tank this tank. */
export type TankDescription = Readonly<{
  volumeL: number
  /** Heat lost through glass and lid per kelvin above the room, W/K. */
  lossWPerK: number
  surfaceM2: number
  lid: boolean
  /** Steady warmth of pump and other things that run, W. */
  pumpW: number
  heater: HeaterDescription
  room: RoomDescription
  /** Local hours. */
  lights: Readonly<{ onHour: number; offHour: number; watts: number }>
  plants: PlantLevel
  /** CO2 from a bottle, local hours. */
  co2?: Readonly<{ onHour: number; offHour: number; mmolLPerH: number }> | undefined
  /** How fast gas passes to the air, a hour; that of a moved surface unless told. */
  gasPerH?: number | undefined
  water: Water
  tap: Water
  /** Dry mass of nitrifiers in the filter at the start, mg. */
  nitrifiers: Readonly<{ ammoniaOxidisersMg: number; nitriteOxidisersMg: number }>
  fishG: number
  probes: readonly ProbeDescription[]
  /** Local time minus UTC. */
  utcOffsetMinutes: number
  stepMs: number
}>

/**
 * Heat loss and surface of a glass tank of usual shape from its volume: both grow with the square of its length.
 * Units: W/K, m2.
 * Source: 20, 60 and 200 L covered: 3.0, 6.0 and 12.9 W/K from areas and heat transfer of glass; 54 L: 0.18 m2.
 */
export const glassTank = (volumeL: number): Readonly<{ lossWPerK: number; surfaceM2: number }> => ({
  lossWPerK: 0.39 * volumeL ** (2 / 3),
  surfaceM2: 0.0126 * volumeL ** (2 / 3)
})
