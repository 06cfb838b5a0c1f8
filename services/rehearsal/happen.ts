import { meqPerDKh, meqPerMgN } from './acidity.ts'
import { pour } from './exchange.ts'
import type { Happening } from './happening.ts'
import { openWindow, weather } from './room.ts'
import type { Water } from './tank-description.ts'
import type { TankLife } from './tank-life.ts'

const nitrogenInProteinFrac = 0.16
/** What fish keep of the nitrogen they eat, and what they leave as faeces: the rest is given off as ammonia. */
const keptFrac = 0.2
const faecesFrac = 0.2

/** Lets something happen to a virtual tank at its present moment. */
export function happen(life: TankLife, happening: Happening): void {
  const { kind } = happening
  if (kind === 'fed') feed(life, happening)
  else if (kind === 'nitrogen-added') addNitrogen(life, happening)
  else if (kind === 'water-changed') beginExchange(life, happening)
  else if (kind === 'topped-up') topUp(life, happening)
  else if (kind === 'fish-in') life.fishG += happening.grams
  else if (kind === 'fish-out') life.fishG = Math.max(0, life.fishG - happening.grams)
  else if (kind === 'hardened') life.body.alkMeq += happening.dKh * meqPerDKh * life.body.volumeL
  else if (kind === 'plants') life.plants = happening.level
  else happenAround(life, happening)
}

type Around = Extract<
  Happening,
  {
    kind:
      | 'heater'
      | 'thermostat'
      | 'mains'
      | 'filter'
      | 'co2'
      | 'lid'
      | 'window'
      | 'weather'
      | 'sun'
      | 'probe'
  }
>

/** What happens to the things around the water. */
function happenAround(life: TankLife, happening: Around): void {
  const { kind } = happening
  if (kind === 'heater') life.heater.setHealth(happening.health)
  else if (kind === 'thermostat') life.heater.setSetpoint(happening.setpointC)
  else if (kind === 'mains') life.mainsOn = happening.on
  else if (kind === 'filter') life.filterOn = happening.on
  else if (kind === 'co2') life.co2On = happening.on
  else if (kind === 'lid') life.lid = happening.closed
  else if (kind === 'window') life.room.begin(openWindow(happening))
  else if (kind === 'weather') life.room.begin(weather(happening))
  else if (kind === 'sun') life.sun = { watts: happening.watts, leftMinutes: happening.minutes }
  else
    for (const { probe } of life.probes)
      if (probe.description.name === happening.name) probe.setFault(happening.fault)
}

function feed(life: TankLife, meal: Extract<Happening, { kind: 'fed' }>): void {
  const nitrogenMg = meal.grams * 1000 * (meal.proteinFrac ?? 0.45) * nitrogenInProteinFrac
  const eatenFrac = life.fishG > 0 ? (meal.eatenFrac ?? 0.95) : 0
  const eatenMg = nitrogenMg * eatenFrac
  life.pools.fishMg += eatenMg * keptFrac
  life.pools.wasteMg += eatenMg * faecesFrac + (nitrogenMg - eatenMg)
  life.pools.gutFirstMg += eatenMg * (1 - keptFrac - faecesFrac)
  life.inMg += nitrogenMg
}

function addNitrogen(life: TankLife, dose: Extract<Happening, { kind: 'nitrogen-added' }>): void {
  if (dose.as === 'nitrite') life.pools.nitriteMg += dose.mgN
  else life.pools.tanMg += dose.mgN
  // Ammonia solution binds an acid when it dissolves; its salt does not.
  if (dose.as === 'ammonia') life.body.alkMeq += dose.mgN * meqPerMgN
  life.inMg += dose.mgN
}

function beginExchange(life: TankLife, change: Extract<Happening, { kind: 'water-changed' }>): void {
  const litres = change.fraction * life.body.volumeL
  life.exchange = {
    drainL: litres,
    fillL: litres,
    drainLPerMinute: litres / (change.drainMinutes ?? 8),
    fillLPerMinute: litres / (change.fillMinutes ?? 8),
    water: { ...life.description.tap, ...change.water },
    heaterPulled: change.heaterPulled ?? true
  }
}

/** Fills up with soft water, as much as went into the air unless told how much. */
function topUp(life: TankLife, top: Extract<Happening, { kind: 'topped-up' }>): void {
  const litres = top.litres ?? life.description.volumeL - life.body.volumeL
  if (litres <= 0) return
  const pure: Water = {
    tempC: life.room.tempC(),
    khDKh: 0,
    pH: 6,
    tanMgLAsN: 0,
    nitriteMgLAsN: 0,
    nitrateMgLAsN: 0
  }
  life.inMg += pour(life.body, life.pools, litres, { ...pure, ...top.water })
}
