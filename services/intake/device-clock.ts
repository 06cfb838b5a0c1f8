import { makeNewestKept } from './newest-kept.ts'

/** Whether a board's time can be believed for one reading. */
export type ClockFinding = 'sane' | 'out-of-range' | 'stands-still' | 'runs-behind'

const dayMs = 86_400_000
const sanePastMs = 400 * dayMs
const saneFutureMs = 120_000
/** A clock further behind than this would make fresh readings look too old to be judged. */
const behindMs = 5 * 60_000
/** So long, and so many readings, at the pace of life prove that it is the clock and no backlog. */
const paceProofMs = 60_000
const readingsThatProveIt = 3

/** So many differing values under one and the same time, and the clock has stopped. */
const valuesThatProveIt = 3

/** A time from 400 days before arrival to 2 minutes after it, both ends included. */
export const isSaneTime = (times: Readonly<{ deviceAtMs: number; arrivedAtMs: number }>): boolean =>
  times.deviceAtMs >= times.arrivedAtMs - sanePastMs && times.deviceAtMs <= times.arrivedAtMs + saneFutureMs

/**
 * Watches the clock behind each probe. A clock that stands still gives itself away by values that go on changing;
 * one that runs behind by readings that come as far apart as they were taken, for a backlog comes faster.
 */
export function makeDeviceClockWatch(mostProbes: number) {
  const seen = makeNewestKept<Readonly<{ deviceAtMs: number; values: readonly number[] }>>(mostProbes)
  const paces = makeNewestKept<Pace>(mostProbes)

  function runsBehind(
    reading: Readonly<{ subject: string; deviceAtMs: number; arrivedAtMs: number }>
  ): boolean {
    const { subject, deviceAtMs, arrivedAtMs } = reading
    if (arrivedAtMs - deviceAtMs <= behindMs) {
      paces.remove(subject)
      return false
    }
    const pace = paces.get(subject)
    const next = pace === undefined ? null : stepPace(pace, reading)
    paces.set(
      subject,
      next ?? { fromDeviceMs: deviceAtMs, fromArrivedMs: arrivedAtMs, newestMs: deviceAtMs, count: 1 }
    )
    return (
      next !== null && next.count >= readingsThatProveIt && next.newestMs - next.fromDeviceMs >= paceProofMs
    )
  }

  return {
    check(
      reading: Readonly<{ subject: string; deviceAtMs: number; arrivedAtMs: number; value: number }>
    ): ClockFinding {
      if (!isSaneTime(reading)) return 'out-of-range'
      const last = seen.get(reading.subject)
      const values = last?.deviceAtMs === reading.deviceAtMs ? last.values : []
      if (values.length >= valuesThatProveIt) return 'stands-still'
      if (values.includes(reading.value)) return runsBehind(reading) ? 'runs-behind' : 'sane'
      const next = [...values, reading.value]
      seen.set(reading.subject, { deviceAtMs: reading.deviceAtMs, values: next })
      if (next.length >= valuesThatProveIt) return 'stands-still'
      return runsBehind(reading) ? 'runs-behind' : 'sane'
    }
  }
}

type Pace = Readonly<{ fromDeviceMs: number; fromArrivedMs: number; newestMs: number; count: number }>

/** The run of readings with one more; null where it came faster or slower than life, and the run begins anew. */
function stepPace(pace: Pace, reading: Readonly<{ deviceAtMs: number; arrivedAtMs: number }>): Pace | null {
  // The same moment again, or one before: told twice or out of order, which says nothing of the pace.
  if (reading.deviceAtMs <= pace.newestMs) return reading.deviceAtMs < pace.fromDeviceMs ? null : pace
  const deviceSpanMs = reading.deviceAtMs - pace.fromDeviceMs
  const arrivedSpanMs = reading.arrivedAtMs - pace.fromArrivedMs
  if (arrivedSpanMs < 0.8 * deviceSpanMs - 2000 || arrivedSpanMs > 1.25 * deviceSpanMs + 60_000) return null
  return { ...pace, newestMs: reading.deviceAtMs, count: pace.count + 1 }
}
