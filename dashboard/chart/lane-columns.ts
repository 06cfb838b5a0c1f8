/** One step of a series as the house thinned it to the pixels: nothing between min and max is lost. */
export type TrackPoint = Readonly<{
  atMs: number
  mean: number | null
  min: number | null
  max: number | null
  /** The worst flag in it. Failed readings touch none of the numbers above. */
  flag: number
}>

export type XY = Readonly<{ x: number; y: number }>

/** What the chart draws of a track, ready columns; a gap is a point that is no number. */
export type LaneColumns = Readonly<{
  line: readonly XY[]
  low: readonly XY[]
  high: readonly XY[]
  /** Steps with a suspect reading: part of the line, and marked. */
  suspect: readonly XY[]
  /** Steps with a failed reading, at the height of the water beside them: what it said is not the water. */
  failed: readonly XY[]
  lowest: number | null
  highest: number | null
  lastMs: number | null
  lastValue: number | null
}>

const clamp = (value: number, rim: Readonly<{ bottom: number; top: number }> | null): number =>
  rim === null ? value : Math.min(rim.top, Math.max(rim.bottom, value))

/**
 * Turns a track into columns. Steps further apart than `gapMs` are not joined: a silence stays a gap.
 * A suspect reading (flag 3) joins the line and is marked; a failed one (flag 4) is only marked.
 */
export function laneColumns(
  given: Readonly<{
    points: readonly TrackPoint[]
    fromMs: number
    gapMs: number
    rim: Readonly<{ bottom: number; top: number }> | null
  }>
): LaneColumns {
  const { points, fromMs, gapMs, rim } = given
  const line: XY[] = []
  const low: XY[] = []
  const high: XY[] = []
  const suspect: XY[] = []
  const failedAtMs: number[] = []
  let lowest: number | null = null
  let highest: number | null = null
  let lastMs: number | null = null
  let lastValue: number | null = null
  for (const point of points) {
    if (point.atMs < fromMs) continue
    if (point.flag === 4) failedAtMs.push(point.atMs)
    if (point.mean === null || point.flag === 9) continue
    if (point.flag === 3) suspect.push({ x: point.atMs, y: clamp(point.mean, rim) })
    if (lastMs !== null && point.atMs - lastMs > gapMs) {
      const breakAt = { x: lastMs + 1, y: Number.NaN }
      line.push(breakAt)
      low.push(breakAt)
      high.push(breakAt)
    }
    const min = point.min ?? point.mean
    const max = point.max ?? point.mean
    line.push({ x: point.atMs, y: clamp(point.mean, rim) })
    low.push({ x: point.atMs, y: clamp(min, rim) })
    high.push({ x: point.atMs, y: clamp(max, rim) })
    lowest = lowest === null ? min : Math.min(lowest, min)
    highest = highest === null ? max : Math.max(highest, max)
    lastMs = point.atMs
    lastValue = point.mean
  }
  const failed = besideTheLine(failedAtMs, line, rim)
  return { line, low, high, suspect, failed, lowest, highest, lastMs, lastValue }
}

/** Marks at the height of the line before them, or after them where it begins later. */
function besideTheLine(
  atMs: readonly number[],
  line: readonly XY[],
  rim: Readonly<{ bottom: number; top: number }> | null
): readonly XY[] {
  const solid = line.filter(({ y }) => !Number.isNaN(y))
  const middle = rim === null ? null : (rim.bottom + rim.top) / 2
  return atMs.flatMap((x) => {
    const y = solid.findLast((one) => one.x <= x)?.y ?? solid[0]?.y ?? middle
    return y === null ? [] : [{ x, y }]
  })
}

/** In how many stretches marks come: those closer than `gapMs` are one. */
export const stretchesOf = (marks: readonly XY[], gapMs: number): number =>
  marks.filter(({ x }, at) => at === 0 || x - (marks[at - 1]?.x ?? 0) > gapMs).length

/**
 * Adds a live value to a track: into the running step where it falls in it, else as a new step, and lets go of
 * what is older than `keepMs`. The answer never grows beyond the steps that fit into `keepMs`.
 */
export function appendLive(
  points: readonly TrackPoint[],
  live: Readonly<{ atMs: number; value: number; low?: number; high?: number; flag: number }>,
  step: Readonly<{ stepMs: number; keepMs: number }>
): readonly TrackPoint[] {
  const startMs = Math.floor(live.atMs / step.stepMs) * step.stepMs
  const low = live.low ?? live.value
  const high = live.high ?? live.value
  const last = points.at(-1)
  if (live.flag === 9 || (last !== undefined && last.atMs >= startMs + step.stepMs)) return points
  const isRunning = last !== undefined && last.atMs >= startMs
  const kept = (isRunning ? points.slice(0, -1) : points).filter(
    (point) => point.atMs >= live.atMs - step.keepMs
  )
  const atMs = isRunning ? last.atMs : startMs
  // A failed reading leaves its mark and nothing else.
  if (live.flag === 4) {
    const before = isRunning ? last : { mean: null, min: null, max: null }
    return [...kept, { ...before, atMs, flag: 4 }]
  }
  const merged: TrackPoint = isRunning
    ? {
        atMs,
        mean: live.value,
        min: Math.min(last.min ?? low, low),
        max: Math.max(last.max ?? high, high),
        flag: Math.max(last.flag, live.flag)
      }
    : { atMs, mean: live.value, min: low, max: high, flag: live.flag }
  return [...kept, merged]
}
