import type { Judged } from './judged.ts'

/** Fish are to be moved by no more than 1 to 2 K an hour. Source: husbandry teaching, from memory. */
const mostKPerHour = 2

/** The water changed by more than 2 K within one hour. A gap in which nothing was heard is not judged. */
export function judgeTemperatureSwing(
  given: Readonly<{
    /** Median of the last five minutes, and the medians of five minutes over the hour before. */
    tempC: number | null
    hourC: readonly number[]
    deadbandK: number
    stood: boolean
  }>
): Judged {
  const { tempC, hourC, stood } = given
  if (tempC === null || hourC.length === 0) return 'cannot-tell'
  const limit = mostKPerHour - (stood ? given.deadbandK : 0)
  const fell = Math.max(...hourC) - tempC
  const rose = tempC - Math.min(...hourC)
  if (Math.max(fell, rose) <= limit) return null
  const value = fell > rose ? -fell : rose
  return { because: fell > rose ? 'fell-fast' : 'rose-fast', value, unit: 'K', limit: mostKPerHour }
}
