import { dicOf, meqPerDKh } from './acidity.ts'
import { makeDice } from './dice.ts'
import type { Body, Exchange } from './exchange.ts'
import { type Heater, makeHeater } from './heater.ts'
import { heldMg, type NitrogenPools } from './nitrogen.ts'
import { makeProbe, type Probe } from './probe.ts'
import { makeRoom, type Room } from './room.ts'
import type { PlantLevel, TankDescription } from './tank-description.ts'

/** Everything of a virtual tank that changes while it lives. */
export type TankLife = {
  readonly description: TankDescription
  readonly room: Room
  readonly heater: Heater
  readonly probes: readonly { readonly probe: Probe; nextAtMs: number }[]
  readonly body: Body
  readonly pools: NitrogenPools
  atMs: number
  pH: number
  inMg: number
  outMg: number
  acidMeq: number
  nitritatedMg: number
  fishG: number
  heaterW: number
  mainsOn: boolean
  filterOn: boolean
  co2On: boolean
  lid: boolean
  plants: PlantLevel
  sun: { watts: number; leftMinutes: number }
  exchange: Exchange | null
}

/** A tank as it stands when its life begins. */
export function beginLife(
  given: Readonly<{ seed: number | string; description: TankDescription; startAtMs: number }>
): TankLife {
  const { description, startAtMs } = given
  const { water, volumeL } = description
  const dice = makeDice(given.seed)
  const alkMeqL = water.khDKh * meqPerDKh
  const pools: NitrogenPools = {
    wasteMg: 0,
    gutFirstMg: 0,
    gutSecondMg: 0,
    fishMg: 0,
    tanMg: water.tanMgLAsN * volumeL,
    nitriteMg: water.nitriteMgLAsN * volumeL,
    nitrateMg: water.nitrateMgLAsN * volumeL,
    plantMg: 0,
    ...description.nitrifiers
  }
  return {
    description,
    room: makeRoom(description.room, dice.fork('room')),
    heater: makeHeater(description.heater, dice.fork('heater')),
    probes: description.probes.map((probe) => ({
      probe: makeProbe(probe, dice.fork(`probe ${probe.name}`)),
      nextAtMs: nextSample(startAtMs, probe.everyMs, probe.phaseMs ?? 0)
    })),
    body: {
      volumeL,
      tempC: water.tempC,
      alkMeq: alkMeqL * volumeL,
      dicMmol: dicOf({ alkMeqL, pH: water.pH, tempC: water.tempC }) * volumeL
    },
    pools,
    atMs: startAtMs,
    pH: water.pH,
    inMg: heldMg(pools),
    outMg: 0,
    acidMeq: 0,
    nitritatedMg: 0,
    fishG: description.fishG,
    heaterW: 0,
    mainsOn: true,
    filterOn: true,
    co2On: true,
    lid: description.lid,
    plants: description.plants,
    sun: { watts: 0, leftMinutes: 0 },
    exchange: null
  }
}

/** The first moment of a rhythm after a given one. */
const nextSample = (afterMs: number, everyMs: number, phaseMs: number): number =>
  Math.floor((afterMs - phaseMs) / everyMs + 1) * everyMs + phaseMs
