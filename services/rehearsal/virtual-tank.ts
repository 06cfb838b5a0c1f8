import { co2Of, meqPerDKh } from './acidity.ts'
import { happen } from './happen.ts'
import type { Happening, TimedHappening } from './happening.ts'
import { liveOn } from './live-on.ts'
import { type Guild, heldMg, temperatureFactor, usualKinetics } from './nitrogen.ts'
import type { TankDescription } from './tank-description.ts'
import { beginLife, type TankLife } from './tank-life.ts'
import type { TankState, VirtualReading } from './tank-state.ts'

/** A tank that lives by seed and clock alone: the same seed, description and happenings give the same life. */
export type VirtualTank = Readonly<{
  /** Lives on until that time; answers what its boards sent meanwhile. Time never runs backwards. */
  advance(toMs: number): readonly VirtualReading[]
  state(): TankState
  /** The part of the state that is about warmth. */
  warmth(): Pick<TankState, 'tempC' | 'roomC' | 'heaterW' | 'heatCalledFor'>
  /** What every probe would send at this moment, beside its own rhythm. */
  sense(): readonly VirtualReading[]
  /** Something that happens now. */
  happen(happening: Happening): void
  /** Things that will happen when their time comes. */
  plan(happenings: readonly TimedHappening[]): void
}>

export function makeVirtualTank(
  given: Readonly<{
    seed: number | string
    description: TankDescription
    startAtMs: number
    /** Lives its warmth alone: its chemistry stands still, and years pass several times as fast. */
    only?: 'warmth'
  }>
): VirtualTank {
  const life = beginLife(given)
  const isWhole = given.only === undefined
  const { stepMs } = given.description
  let planned: TimedHappening[] = []

  const letHappen = (): void => {
    let due = 0
    for (const { atMs, happening } of planned) {
      if (atMs > life.atMs) break
      happen(life, happening)
      due += 1
    }
    if (due > 0) planned = planned.slice(due)
  }

  return {
    advance(toMs) {
      const sent: VirtualReading[] = []
      while (life.atMs + stepMs <= toMs) {
        letHappen()
        liveOn(life, isWhole)
        if (life.mainsOn) collect(life, sent)
        else skip(life)
      }
      letHappen()
      return sent
    },
    state: () => stateOf(life),
    warmth: () => warmthOf(life),
    sense: () => (life.mainsOn ? life.probes.flatMap(({ probe }) => readingOf(probe, life.atMs) ?? []) : []),
    happen: (happening) => happen(life, happening),
    plan(happenings) {
      planned = [...planned, ...happenings].toSorted((one, other) => one.atMs - other.atMs)
    }
  }
}

type Ticking = TankLife['probes'][number]

const readingOf = (probe: Ticking['probe'], atMs: number): VirtualReading | null => {
  const value = probe.read()
  const { name, quantity } = probe.description
  return value === null ? null : { probe: name, quantity, value, atMs }
}

function collect(life: TankLife, sent: VirtualReading[]): void {
  for (const ticking of life.probes)
    while (ticking.nextAtMs <= life.atMs) {
      const reading = readingOf(ticking.probe, ticking.nextAtMs)
      if (reading !== null) sent.push(reading)
      ticking.nextAtMs += ticking.probe.description.everyMs
    }
}

/** Without mains no board speaks: its samples of that time never were. */
function skip(life: TankLife): void {
  for (const ticking of life.probes)
    while (ticking.nextAtMs <= life.atMs) ticking.nextAtMs += ticking.probe.description.everyMs
}

const warmthOf = (life: TankLife): ReturnType<VirtualTank['warmth']> => ({
  tempC: life.body.tempC,
  roomC: life.room.tempC(),
  heaterW: life.heaterW,
  heatCalledFor: life.heater.asksForHeat()
})

function stateOf(life: TankLife): TankState {
  const { body, pools } = life
  const dicMmolL = body.dicMmol / body.volumeL
  return {
    ...warmthOf(life),
    atMs: life.atMs,
    pH: life.pH,
    khDKh: body.alkMeq / body.volumeL / meqPerDKh,
    co2MgL: 44.01 * co2Of({ dicMmolL, pH: life.pH, tempC: body.tempC }),
    tanMgLAsN: pools.tanMg / body.volumeL,
    nitriteMgLAsN: pools.nitriteMg / body.volumeL,
    nitrateMgLAsN: pools.nitrateMg / body.volumeL,
    volumeL: body.volumeL,
    mainsOn: life.mainsOn,
    filterRunning: life.mainsOn && life.filterOn,
    fishG: life.fishG,
    ammoniaCapacityMgLPerDay: capacity(
      usualKinetics.ammoniaOxidisers,
      pools.ammoniaOxidisersMg,
      body.tempC,
      body.volumeL
    ),
    nitriteCapacityMgLPerDay: capacity(
      usualKinetics.nitriteOxidisers,
      pools.nitriteOxidisersMg,
      body.tempC,
      body.volumeL
    ),
    nitrogen: { inMg: life.inMg, outMg: life.outMg, heldMg: heldMg(pools) },
    nitrificationAcidMeq: life.acidMeq,
    nitritatedMg: life.nitritatedMg
  }
}

const capacity = (guild: Guild, guildMg: number, tempC: number, volumeL: number): number =>
  ((guild.muPerDay * temperatureFactor(tempC, guild.activationKJPerMol)) / guild.yieldFrac) *
  (guildMg / volumeL)
