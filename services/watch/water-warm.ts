import type { Judged } from './judged.ts'
import { beyond, type WaterTemperature } from './temperature-limit.ts'

/** The water is warmer than all its fish are well in. Asks for a mean that weighs the last quarter of an hour. */
export function judgeWaterWarm(given: WaterTemperature): Judged {
  const { band, tempC } = given
  if (tempC === null) return 'cannot-tell'
  if (band.high === null) return null
  return beyond(given, { limitC: band.high, side: 'above', because: 'above-band', harmfulC: band.dangerHigh })
}
