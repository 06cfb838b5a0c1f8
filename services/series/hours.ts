export const hourMs = 3_600_000
/** A little over three weeks. */
const hoursKept = 24 * 23

/** Means of whole hours over the last three weeks: what a slow change is measured against. */
export type HourSeries = Readonly<{
  add: (point: Readonly<{ atMs: number; value: number }>) => void
  /** Takes a value out again that was added before. */
  remove: (point: Readonly<{ atMs: number; value: number }>) => void
  /** Sets a whole hour as it is known from elsewhere; what was gathered in it before is dropped. */
  put: (hour: Readonly<{ atMs: number; mean: number; count: number }>) => void
  /** Mean of the hour that begins at `index` hours since 1970; null where nothing came. */
  mean: (index: number) => number | null
  /** Grows whenever an hour that was already over changes: what rests on whole hours is then judged anew. */
  revision: () => number
}>

export function makeHourSeries(): HourSeries {
  const hours = new Map<number, { sum: number; count: number }>()
  let newest = Number.NEGATIVE_INFINITY
  let revision = 0

  function at(index: number): { sum: number; count: number } | null {
    if (index <= newest - hoursKept) return null
    if (index < newest) revision += 1
    let hour = hours.get(index)
    if (hour === undefined) {
      hour = { sum: 0, count: 0 }
      hours.set(index, hour)
    }
    if (index > newest) {
      newest = index
      for (const old of hours.keys()) if (old <= newest - hoursKept) hours.delete(old)
    }
    return hour
  }

  return {
    add({ atMs, value }) {
      const hour = at(Math.floor(atMs / hourMs))
      if (hour === null) return
      hour.sum += value
      hour.count += 1
    },
    remove({ atMs, value }) {
      const hour = at(Math.floor(atMs / hourMs))
      if (hour === null || hour.count === 0) return
      hour.sum -= value
      hour.count -= 1
    },
    put({ atMs, mean, count }) {
      const hour = at(Math.floor(atMs / hourMs))
      if (hour === null) return
      hour.sum = mean * count
      hour.count = count
    },
    mean(index) {
      const hour = hours.get(index)
      return hour === undefined || hour.count === 0 ? null : hour.sum / hour.count
    },
    revision: () => revision
  }
}
