import { co2AtAir, co2Of, meqPerMgN, pHOf } from './acidity.ts'
import { evaporationKgPerH } from './balance.ts'
import { passExchange } from './exchange.ts'
import { evaporationW, heatPerLitreK, warmed } from './heat.ts'
import { moveNitrogen, temperatureFactor } from './nitrogen.ts'
import type { Probe, Surroundings } from './probe.ts'
import type { TankLife } from './tank-life.ts'

/** Gas exchange of a quiet, filtered surface, a share of the gap per hour. Common practice, no source. */
const gasPerH = 0.35
const indoorCo2Ppm = 700
/** What filter, soil and microbes breathe out, mmol CO2/L a hour. Chosen for 3 to 8 mg/L CO2 at dawn. */
const breathMmolLPerH = 0.03
/** A fish breathes about 0.3 mg O2/(g h): mmol CO2 per g and hour. From memory. */
const fishBreathMmolPerGH = 0.0085
/** Chosen for a rise of 0.1 to 0.4 pH in the light and for a few hundredths mg N/L a day. */
const plantPower = {
  none: { photoMmolLPerH: 0, uptakeMgLPerDay: 0 },
  few: { photoMmolLPerH: 0.008, uptakeMgLPerDay: 0.02 },
  many: { photoMmolLPerH: 0.016, uptakeMgLPerDay: 0.06 }
}
/** What fasting fish give off, mg N per g and day: 8.2 mg/kg/h at night (Brett and Zala 1975, abstract). */
const fastingMgPerGDay = 0.197
/** A stopped filter still holds a little oxygen and flow. Common practice, no source. */
const stoppedFlowFrac = 0.05
/** The share of a lamp's power that ends in the water. Common practice, no source. */
const lampIntoWaterFrac = 0.3

/** One step of a virtual tank's life: of its warmth, and of its chemistry if it is wanted whole. */
export function liveOn(life: TankLife, isWhole = true): void {
  const { stepMs, lights, utcOffsetMinutes } = life.description
  const minutes = stepMs / 60_000
  const hour = ((((life.atMs / 60_000 + utcOffsetMinutes) / 60) % 24) + 24) % 24
  const lit = life.mainsOn && within(lights, hour)
  life.room.pass({ hourOfDay: hour, minutes })
  if (life.exchange !== null) {
    const flow = passExchange(life.exchange, life.body, life.pools, minutes)
    life.inMg += flow.inMg
    life.outMg += flow.outMg
    if (flow.done) life.exchange = null
  }
  passHeat(life, lit, minutes)
  if (isWhole) {
    passNitrogen(life, lit, minutes)
    passGas(life, lit, hour, minutes)
  }
  life.atMs += stepMs
  for (const { probe } of life.probes) probe.follow(around(life, probe), minutes * 60)
}

const within = (hours: Readonly<{ onHour: number; offHour: number }>, hour: number): boolean =>
  hours.onHour <= hours.offHour
    ? hour >= hours.onHour && hour < hours.offHour
    : hour >= hours.onHour || hour < hours.offHour

function passHeat(life: TankLife, lit: boolean, minutes: number): void {
  const { body, room, description } = life
  const pulled = life.exchange?.heaterPulled === true
  life.heaterW = life.heater.powerW({
    tempC: body.tempC,
    mainsOn: life.mainsOn && !pulled,
    days: minutes / 1440
  })
  const goneKgH = evaporationKgPerH(description, {
    waterC: body.tempC,
    airC: room.tempC(),
    lid: life.lid
  })
  const otherW =
    (life.mainsOn && life.filterOn ? description.pumpW : 0) +
    (lit ? description.lights.watts * lampIntoWaterFrac : 0) +
    (life.sun.leftMinutes > 0 ? life.sun.watts : 0)
  life.sun.leftMinutes -= minutes
  body.tempC = warmed(
    {
      tempC: body.tempC,
      roomC: room.tempC(),
      capacityJPerK: heatPerLitreK * body.volumeL,
      lossWPerK: description.lossWPerK,
      powerW: life.heaterW + otherW - evaporationW(goneKgH, body.tempC)
    },
    minutes * 60
  )
  body.volumeL -= (goneKgH * minutes) / 60
}

function passNitrogen(life: TankLife, lit: boolean, minutes: number): void {
  const { body } = life
  const moved = moveNitrogen(
    life.pools,
    {
      volumeL: body.volumeL,
      tempC: body.tempC,
      pH: life.pH,
      flowFrac: life.mainsOn && life.filterOn ? 1 : stoppedFlowFrac,
      plantUptakeMgPerDay: (lit ? 2 : 0.2) * plantPower[life.plants].uptakeMgLPerDay * body.volumeL,
      fastingMgPerDay: life.fishG * fastingMgPerGDay
    },
    minutes / 1440
  )
  life.nitritatedMg += moved.nitritatedMg
  life.acidMeq += 2 * moved.nitritatedMg * meqPerMgN
  // Two acids per ammonium oxidised; a base for each organic nitrogen freed as ammonia; plants swap like for like.
  body.alkMeq +=
    (moved.ammonifiedMg - 2 * moved.nitritatedMg - moved.plantTanMg + moved.plantNitrateMg) * meqPerMgN
}

function passGas(life: TankLife, lit: boolean, hour: number, minutes: number): void {
  const { body, description } = life
  const dicMmolL = body.dicMmol / body.volumeL
  const gapMmolL =
    co2Of({ dicMmolL, pH: life.pH, tempC: body.tempC }) -
    co2AtAir({ tempC: body.tempC, airPpm: indoorCo2Ppm })
  const bottleOn =
    description.co2 !== undefined && life.mainsOn && life.co2On && within(description.co2, hour)
  const perH =
    breathMmolLPerH * temperatureFactor(body.tempC, 50) +
    (fishBreathMmolPerGH * life.fishG) / body.volumeL +
    (bottleOn ? (description.co2?.mmolLPerH ?? 0) : 0) -
    (lit ? plantPower[life.plants].photoMmolLPerH : 0) -
    (description.gasPerH ?? gasPerH) * gapMmolL
  body.dicMmol = Math.max(0.005 * body.volumeL, body.dicMmol + (perH * minutes * body.volumeL) / 60)
  life.pH = pHOf({
    alkMeqL: body.alkMeq / body.volumeL,
    dicMmolL: body.dicMmol / body.volumeL,
    tempC: body.tempC,
    nearPH: life.pH
  })
}

/** What surrounds a probe, in the water and out of it. */
function around(life: TankLife, probe: Probe): Surroundings {
  const { quantity } = probe.description
  const roomC = life.room.tempC()
  if (quantity === 'ph') return { inWater: life.pH, inAir: life.pH }
  if (quantity === 'heater-power') return { inWater: life.heaterW, inAir: life.heaterW }
  if (quantity === 'room-temperature') return { inWater: roomC, inAir: roomC }
  return { inWater: life.body.tempC, inAir: roomC }
}
