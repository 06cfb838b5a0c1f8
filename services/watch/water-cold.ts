import type { Judged } from './judged.ts'
import { beyond, type WaterTemperature } from './temperature-limit.ts'

/** The water is colder than all its fish are well in. Asks for a mean that weighs the last quarter of an hour. */
export function judgeWaterCold(given: WaterTemperature): Judged {
  const { band, tempC } = given
  if (tempC === null) return 'cannot-tell'
  if (band.low === null) return null
  return beyond(given, { limitC: band.low, side: 'below', because: 'below-band', harmfulC: band.dangerLow })
}
