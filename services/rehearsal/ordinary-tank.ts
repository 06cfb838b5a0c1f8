import { powerToHoldW } from './balance.ts'
import type { Dice } from './dice.ts'
import { phProbe, temperatureProbe } from './probe.ts'
import { glassTank, type TankDescription } from './tank-description.ts'

/** Where a keeper's choice is asked for instead of left to the dice. */
export type TankWish = Readonly<{
  volumeL?: number
  roomMeanC?: number
  everyMs?: number
  /** Heater power over the power needed in the ordinary room. */
  sizing?: number
  khDKh?: number
  /** Adds a probe for the room or for the heater's power. */
  withRoomProbe?: boolean
  withHeaterPower?: boolean
}>

/** Heaters as they are sold, W. */
const soldW = [10, 25, 50, 75, 100, 150, 200, 250, 300, 400, 500, 600]
/** Noise of three kinds of board: good, usual, cheap. Chosen to span what hobby boards show. */
const noiseK = [0.014, 0.04, 0.08] as const
const noisePH = [0.004, 0.01, 0.02] as const
const minuteMs = 60_000
/** Nitrogen in a day's food for each gram of fish, mg: 1.5 % of its weight, 45 % protein, 16 % nitrogen. */
export const mealFracPerDay = 0.015
const loadMgPerG = mealFracPerDay * 450 * 0.16

/**
 * A stocked, ripened tank as there are many: 20 to 400 L, open or covered, in rooms of 15 to 26 °C, with
 * thermostats of ±0.1 to ±0.6 K and heaters from too small to far too large.
 */
export function ordinaryTank(dice: Dice, wish: TankWish = {}): TankDescription {
  const volumeL = wish.volumeL ?? Math.round(Math.exp(dice.between(Math.log(20), Math.log(400))))
  const glass = glassTank(volumeL)
  const everyMs = wish.everyMs ?? dice.pick([30_000, minuteMs, 2 * minuteMs, 5 * minuteMs])
  const bandK = dice.between(0.1, 0.6)
  const setpointC = dice.between(23.5, 26.5)
  const khDKh = wish.khDKh ?? dice.between(3, 9)
  const fishG = volumeL * dice.between(0.03, 0.2)
  const frame = {
    ...glass,
    lossWPerK: glass.lossWPerK * dice.between(0.85, 1.2),
    lid: dice.chance(0.65),
    pumpW: dice.between(2, 3 + volumeL / 30),
    room: {
      meanC: wish.roomMeanC ?? dice.between(15, 26),
      dailySwingK: dice.between(0.4, 1.8),
      wanderK: dice.between(0.2, 0.7),
      humidityFrac: dice.between(0.35, 0.6)
    }
  }
  const water = {
    tempC: setpointC,
    khDKh,
    pH: 7.3,
    tanMgLAsN: 0.01,
    nitriteMgLAsN: 0.01,
    nitrateMgLAsN: dice.between(3, 12)
  }
  return {
    ...frame,
    volumeL,
    heater: {
      watts: heaterFor(frame, { setpointC, sizing: wish.sizing ?? sizingOf(dice) }),
      setpointC,
      bandK,
      jitterK: Math.min(bandK / 3, dice.between(0.02, 0.12))
    },
    lights: {
      onHour: dice.whole(8, 12),
      offHour: dice.whole(18, 22),
      watts: volumeL * dice.between(0.1, 0.3)
    },
    plants: dice.pick(['none', 'few', 'many']),
    water,
    tap: {
      ...water,
      tempC: 12,
      khDKh: khDKh + dice.between(0, 1.5),
      pH: 7.6,
      nitrateMgLAsN: dice.between(0, 4)
    },
    // Growth balances decay at this load: yield over decay, 0.15/0.05 and 0.05/0.05, and as much again in reserve.
    nitrifiers: {
      ammoniaOxidisersMg: 6 * fishG * loadMgPerG,
      nitriteOxidisersMg: 2 * fishG * loadMgPerG
    },
    fishG,
    probes: probesOf(dice, wish, everyMs),
    utcOffsetMinutes: 0,
    stepMs: Math.min(minuteMs, everyMs)
  }
}

function probesOf(dice: Dice, wish: TankWish, everyMs: number): TankDescription['probes'] {
  const phaseMs = dice.whole(0, everyMs / 1000 - 1) * 1000
  const water = temperatureProbe({
    name: 't1',
    everyMs,
    phaseMs,
    noiseK: dice.pick(noiseK),
    lagS: dice.between(20, 300),
    offsetK: dice.between(-0.4, 0.4)
  })
  const acid = phProbe({
    name: 'p1',
    everyMs,
    phaseMs,
    noisePH: dice.pick(noisePH),
    driftPerDay: dice.between(-0.003, 0.003)
  })
  const room = {
    ...temperatureProbe({ name: 'r1', everyMs, phaseMs }),
    quantity: 'room-temperature' as const
  }
  const power = {
    name: 'w1',
    quantity: 'heater-power' as const,
    everyMs,
    phaseMs,
    noiseSd: 0.3,
    step: 0.1,
    lagS: 0
  }
  return [
    water,
    acid,
    ...(wish.withRoomProbe === true ? [room] : []),
    ...(wish.withHeaterPower === true ? [power] : [])
  ]
}

/** One in eight is too small for its room, one in three far too large. */
const sizingOf = (dice: Dice): number =>
  dice.chance(0.125)
    ? dice.between(0.8, 1.05)
    : dice.chance(0.35)
      ? dice.between(2.2, 4)
      : dice.between(1.15, 2.2)

/** The heater on the shelf that is next to what the coolest ordinary hour asks for, times a sizing. */
function heaterFor(
  frame: Pick<TankDescription, 'surfaceM2' | 'room' | 'lossWPerK' | 'pumpW' | 'lid'>,
  given: Readonly<{ setpointC: number; sizing: number }>
): number {
  const airC = Math.min(frame.room.meanC - frame.room.dailySwingK, given.setpointC - 3)
  const wantedW = powerToHoldW(frame, { waterC: given.setpointC, airC }) * given.sizing
  return given.sizing < 1.1
    ? Math.max(5, Math.round(wantedW))
    : (soldW.find((watts) => watts >= wantedW) ?? Math.ceil(wantedW / 100) * 100)
}
