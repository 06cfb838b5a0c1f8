import type { Judged } from './judged.ts'
import { beyond, type WaterTemperature } from './temperature-limit.ts'

/** The water is so cold that fish come to harm. Asks for the median of the last few minutes. */
export function judgeWaterColdDanger(given: WaterTemperature): Judged {
  const { band, tempC } = given
  if (tempC === null) return 'cannot-tell'
  if (band.dangerLow === null) return null
  return beyond(given, {
    limitC: band.dangerLow,
    side: 'below',
    because: 'below-danger-limit',
    harmfulC: null
  })
}
