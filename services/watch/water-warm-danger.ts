import type { Judged } from './judged.ts'
import { beyond, type WaterTemperature } from './temperature-limit.ts'

/** The water is so warm that fish come to harm. Asks for the median of the last few minutes. */
export function judgeWaterWarmDanger(given: WaterTemperature): Judged {
  const { band, tempC } = given
  if (tempC === null) return 'cannot-tell'
  if (band.dangerHigh === null) return null
  return beyond(given, {
    limitC: band.dangerHigh,
    side: 'above',
    because: 'above-danger-limit',
    harmfulC: null
  })
}
