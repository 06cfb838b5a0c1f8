import { dicOf, meqPerDKh } from './acidity.ts'
import type { NitrogenPools } from './nitrogen.ts'
import type { Water } from './tank-description.ts'

/** What the water of a virtual tank carries, in amounts of the whole tank, so that mixing is adding. */
export type Body = {
  volumeL: number
  tempC: number
  alkMeq: number
  dicMmol: number
}
export type Flow = Readonly<{ inMg: number; outMg: number }>
type Dissolved = Pick<NitrogenPools, 'tanMg' | 'nitriteMg' | 'nitrateMg'>

/** A water change on its way: first out, then in, minute by minute. */
export type Exchange = {
  drainL: number
  fillL: number
  drainLPerMinute: number
  fillLPerMinute: number
  water: Water
  heaterPulled: boolean
}

/** Takes litres away with all that is dissolved in them; nitrifiers sit in the filter and stay. Answers mg N taken. */
export function drain(body: Body, pools: Dissolved, litres: number): number {
  const keptFrac = 1 - litres / body.volumeL
  const before = pools.tanMg + pools.nitriteMg + pools.nitrateMg
  pools.tanMg *= keptFrac
  pools.nitriteMg *= keptFrac
  pools.nitrateMg *= keptFrac
  body.alkMeq *= keptFrac
  body.dicMmol *= keptFrac
  body.volumeL *= keptFrac
  return before - (pools.tanMg + pools.nitriteMg + pools.nitrateMg)
}

/** Pours litres of another water in. Answers mg N that came with it. */
export function pour(body: Body, pools: Dissolved, litres: number, water: Water): number {
  const alkMeqL = water.khDKh * meqPerDKh
  const togetherL = body.volumeL + litres
  body.tempC = (body.tempC * body.volumeL + water.tempC * litres) / togetherL
  body.alkMeq += alkMeqL * litres
  body.dicMmol += dicOf({ alkMeqL, pH: water.pH, tempC: water.tempC }) * litres
  body.volumeL = togetherL
  pools.tanMg += water.tanMgLAsN * litres
  pools.nitriteMg += water.nitriteMgLAsN * litres
  pools.nitrateMg += water.nitrateMgLAsN * litres
  return (water.tanMgLAsN + water.nitriteMgLAsN + water.nitrateMgLAsN) * litres
}

/** Goes on with a water change for some minutes; answers the nitrogen that moved and whether it is done. */
export function passExchange(
  exchange: Exchange,
  body: Body,
  pools: Dissolved,
  minutes: number
): Flow & Readonly<{ done: boolean }> {
  if (exchange.drainL > 0) {
    const litres = Math.min(exchange.drainL, exchange.drainLPerMinute * minutes)
    exchange.drainL -= litres
    return { inMg: 0, outMg: drain(body, pools, litres), done: false }
  }
  const litres = Math.min(exchange.fillL, exchange.fillLPerMinute * minutes)
  exchange.fillL -= litres
  const inMg = pour(body, pools, litres, exchange.water)
  return { inMg, outMg: 0, done: exchange.fillL <= 1e-9 }
}
