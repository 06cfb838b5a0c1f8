import { makeNewestKept } from './newest-kept.ts'

const mostSubjects = 4096

/**
 * Tells readings of now from a backlog where no clock of ours can: by whether a board's own time went on no faster
 * than time itself. The first of a subject with a time of its own tells nothing yet.
 */
export function makePresentPace() {
  const last = makeNewestKept<Readonly<{ deviceAtMs: number; arrivedAtMs: number }>>(mostSubjects)
  return {
    isPresent(
      reading: Readonly<{ subject: string; deviceAtMs: number | null; arrivedAtMs: number }>
    ): boolean {
      const { subject, deviceAtMs, arrivedAtMs } = reading
      if (deviceAtMs === null) return true
      const before = last.get(subject)
      if (before !== undefined && deviceAtMs <= before.deviceAtMs) return false
      last.set(subject, { deviceAtMs, arrivedAtMs })
      if (before === undefined) return false
      return deviceAtMs - before.deviceAtMs <= 2 * (arrivedAtMs - before.arrivedAtMs) + 5000
    }
  }
}
