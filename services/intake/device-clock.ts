import { makeNewestKept } from './newest-kept.ts'

/** Whether a board's time can be believed for one reading. */
export type ClockFinding = 'sane' | 'out-of-range' | 'stands-still'

const dayMs = 86_400_000
const sanePastMs = 400 * dayMs
const saneFutureMs = 120_000
/** So many differing values under one and the same time, and the clock has stopped. */
const valuesThatProveIt = 3

/** A time from 400 days before arrival to 2 minutes after it, both ends included. */
export const isSaneTime = (times: Readonly<{ deviceAtMs: number; arrivedAtMs: number }>): boolean =>
  times.deviceAtMs >= times.arrivedAtMs - sanePastMs && times.deviceAtMs <= times.arrivedAtMs + saneFutureMs

/** Watches the clock behind each probe. A clock that stands still gives itself away by values that go on changing. */
export function makeDeviceClockWatch(mostProbes: number) {
  const seen = makeNewestKept<Readonly<{ deviceAtMs: number; values: readonly number[] }>>(mostProbes)
  return {
    check(
      reading: Readonly<{ subject: string; deviceAtMs: number; arrivedAtMs: number; value: number }>
    ): ClockFinding {
      if (!isSaneTime(reading)) return 'out-of-range'
      const last = seen.get(reading.subject)
      const values = last?.deviceAtMs === reading.deviceAtMs ? last.values : []
      if (values.length >= valuesThatProveIt) return 'stands-still'
      if (values.includes(reading.value)) return 'sane'
      const next = [...values, reading.value]
      seen.set(reading.subject, { deviceAtMs: reading.deviceAtMs, values: next })
      return next.length >= valuesThatProveIt ? 'stands-still' : 'sane'
    }
  }
}
