import type { Band } from '../tank/bands.ts'
import type { Judged } from './judged.ts'

/** The pH lies outside what all fish of the tank live in. */
export function judgePhOutOfBand(
  given: Readonly<{ pH: number | null; band: Band; deadband: number; stood: boolean }>
): Judged {
  const { pH, band } = given
  if (pH === null) return 'cannot-tell'
  const back = given.stood ? given.deadband : 0
  const found = (because: string, limit: number): Judged => ({ because, value: pH, unit: 'pH', limit })
  if (band.low !== null && pH < band.low + back) return found('below-band', band.low)
  if (band.high !== null && pH > band.high - back) return found('above-band', band.high)
  return null
}
