import type { Quantity } from '../tank/quantity.ts'

/** The truth of a virtual tank at one moment, which no keeper ever sees whole. */
export type TankState = Readonly<{
  atMs: number
  tempC: number
  roomC: number
  pH: number
  khDKh: number
  co2MgL: number
  tanMgLAsN: number
  nitriteMgLAsN: number
  nitrateMgLAsN: number
  volumeL: number
  heaterW: number
  /** Whether the thermostat calls for heat, also where the heater does not obey. */
  heatCalledFor: boolean
  mainsOn: boolean
  filterRunning: boolean
  fishG: number
  /** What nitrifiers could oxidise in a day with all the food they want, mg N/L. */
  ammoniaCapacityMgLPerDay: number
  nitriteCapacityMgLPerDay: number
  /** Nitrogen that came in, went out and is still there, mg: in - out = held. */
  nitrogen: Readonly<{ inMg: number; outMg: number; heldMg: number }>
  /** Alkalinity that nitrification has used up so far, meq in the whole tank. */
  nitrificationAcidMeq: number
  nitritatedMg: number
}>

/** One value that a virtual board sends. */
export type VirtualReading = Readonly<{
  probe: string
  quantity: Quantity
  value: number
  atMs: number
}>
