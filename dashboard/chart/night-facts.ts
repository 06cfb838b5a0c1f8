import type { TrackPoint } from './lane-columns.ts'
import type { LaneName } from './lane-facts.ts'
import type { HourAt, Span } from './night-span.ts'

export type At = Readonly<{ value: number; atMs: number }>
/** How one quantity went through a stretch of time, in facts. */
export type LaneStory = Readonly<{
  lane: LaneName
  count: number
  first: At | null
  last: At | null
  lowest: At | null
  highest: At | null
  /** The most that the highest may have been, with the doubt of tests and probes. */
  highestHigh: number | null
  /** The quickest change over an hour; null where the steps are too coarse to tell. */
  fastest: Readonly<{ perHour: number; fromMs: number; toMs: number }> | null
  /** Stretches in which nothing was heard. */
  gaps: readonly Span[]
}>

const hourMs = 3_600_000
const quarterMs = 15 * 60_000

/** Longer than this between two steps is a silence. */
export const gapMsOf = (stepMs: number): number => Math.max(stepMs * 2.5, quarterMs)

type Good = Readonly<{ atMs: number; mean: number; min: number; max: number }>
/** The points of a stretch that count: failed readings and empty steps are none. */
export const goodPoints = (points: readonly TrackPoint[], span: Span): readonly Good[] =>
  points.flatMap(({ atMs, mean, min, max, flag }) =>
    mean === null || flag === 9 || atMs < span.fromMs || atMs > span.toMs
      ? []
      : [{ atMs, mean, min: min ?? mean, max: max ?? mean }]
  )

/** Tells one lane of a stretch from its points. Computed lanes carry their doubt as min and max. */
export function laneStory(
  given: Readonly<{ lane: LaneName; points: readonly TrackPoint[]; stepMs: number; span: Span }>
): LaneStory {
  const { lane, span } = given
  const points = goodPoints(given.points, span)
  const isMeasured = lane === 'temperature' || lane === 'ph'
  const least = (best: Good, one: Good): Good => {
    return (isMeasured ? one.min < best.min : one.mean < best.mean) ? one : best
  }
  const most = (best: Good, one: Good): Good => {
    return (isMeasured ? one.max > best.max : one.mean > best.mean) ? one : best
  }
  const [first] = points
  const last = points.at(-1)
  if (first === undefined || last === undefined)
    return {
      ...{ lane, count: 0, first: null, last: null, lowest: null, highest: null, highestHigh: null },
      ...{ fastest: null, gaps: [span] }
    }
  const low = points.reduce(least, first)
  const high = points.reduce(most, first)
  return {
    lane,
    count: points.length,
    first: { value: first.mean, atMs: first.atMs },
    last: { value: last.mean, atMs: last.atMs },
    lowest: { value: isMeasured ? low.min : low.mean, atMs: low.atMs },
    highest: { value: isMeasured ? high.max : high.mean, atMs: high.atMs },
    highestHigh: high.max,
    fastest: lane === 'nitrite' ? null : fastestOf(points, given.stepMs),
    gaps: lane === 'nitrite' ? [] : gapsOf(points, span, gapMsOf(given.stepMs))
  }
}

function gapsOf(points: readonly Good[], span: Span, gapMs: number): readonly Span[] {
  const moments = [span.fromMs, ...points.map(({ atMs }) => atMs), span.toMs]
  return moments.flatMap((atMs, at) => {
    const beforeMs = moments[at - 1] ?? atMs
    return atMs - beforeMs > gapMs ? [{ fromMs: beforeMs, toMs: atMs }] : []
  })
}

/** Steps longer than this hide how quick an hour was. */
const coarsestMs = hourMs / 2

function fastestOf(points: readonly Good[], stepMs: number): LaneStory['fastest'] {
  if (stepMs > coarsestMs) return null
  let best: LaneStory['fastest'] = null
  let to = 0
  for (const from of points) {
    while ((points[to]?.atMs ?? Number.POSITIVE_INFINITY) < from.atMs + hourMs) to += 1
    const end = points[to]
    if (end === undefined) break
    // Across a silence nobody knows how quick it was.
    if (end.atMs - from.atMs > hourMs + gapMsOf(stepMs)) continue
    const perHour = ((end.mean - from.mean) * hourMs) / (end.atMs - from.atMs)
    if (best === null || Math.abs(perHour) > Math.abs(best.perHour))
      best = { perHour, fromMs: from.atMs, toMs: end.atMs }
  }
  return best
}

export type DawnDip = Readonly<{ depth: number; lowest: At; rose: number }>
const leastDip = 0.1

/**
 * How far pH sank from the evening to its lowest around dawn; null where it did not, or nobody measured both.
 * Units: pH.
 * Valid: a single night, with pH known within two hours of its beginning and around dawn (3 to 10 o'clock).
 * Source: plants and animals breathe out carbon dioxide all night and light ends it, so pH is lowest at dawn: Boyd,
 *   Water Quality: An Introduction, chapter on pH (from memory). That a tenth is worth a word: common practice, no source.
 * Exact to: the probe.
 */
export function dawnDip(points: readonly TrackPoint[], span: Span, hourAt: HourAt): DawnDip | null {
  if (span.toMs - span.fromMs > 36 * hourMs) return null
  const good = goodPoints(points, span)
  const evening = good.filter(({ atMs }) => atMs <= span.fromMs + 2 * hourMs).map(({ mean }) => mean)
  const before = evening.toSorted((a, b) => a - b)[evening.length >> 1]
  const [first] = good
  if (before === undefined || first === undefined) return null
  const low = good.reduce((best, one) => (one.mean < best.mean ? one : best), first)
  const hour = hourAt(low.atMs)
  const depth = before - low.mean
  if (depth < leastDip || hour < 3 || hour > 10 || low.atMs < span.fromMs + 3 * hourMs) return null
  const after = good.filter(({ atMs }) => atMs > low.atMs).map(({ mean }) => mean)
  return {
    depth,
    lowest: { value: low.mean, atMs: low.atMs },
    rose: Math.max(0, ...after.map((mean) => mean - low.mean))
  }
}

/** The step that stands for a moment; null where nothing was heard near it. */
export function pointNear(points: readonly TrackPoint[], atMs: number, stepMs: number): TrackPoint | null {
  const gapMs = gapMsOf(stepMs)
  let best: TrackPoint | null = null
  for (const point of points) {
    if (point.mean === null && point.flag !== 4) continue
    const middleMs = point.atMs + stepMs / 2
    if (best !== null && Math.abs(middleMs - atMs) > Math.abs(best.atMs + stepMs / 2 - atMs)) break
    best = point
  }
  return best !== null && Math.abs(best.atMs + stepMs / 2 - atMs) <= gapMs ? best : null
}

export type Row = Readonly<{
  atMs: number
  mean: number | null
  min: number | null
  max: number | null
  flag: number
}>
/** The numbers behind a chart: about so many rows, each with the lowest and highest of its time. */
export function rowsOf(points: readonly TrackPoint[], span: Span, count: number): readonly Row[] {
  const stepMs = Math.ceil((span.toMs - span.fromMs) / count / quarterMs) * quarterMs
  const rows: Row[] = []
  for (let fromMs = span.fromMs; fromMs < span.toMs; fromMs += stepMs) {
    const inIt = points.filter(({ atMs }) => atMs >= fromMs && atMs < fromMs + stepMs)
    const good = goodPoints(inIt, { fromMs, toMs: fromMs + stepMs })
    const flag = Math.max(0, ...inIt.map((point) => (point.flag === 9 ? 0 : point.flag)))
    rows.push(
      good.length === 0
        ? { atMs: fromMs, mean: null, min: null, max: null, flag }
        : {
            atMs: fromMs,
            mean: good.reduce((sum, { mean }) => sum + mean, 0) / good.length,
            min: Math.min(...good.map(({ min }) => min)),
            max: Math.max(...good.map(({ max }) => max)),
            flag
          }
    )
  }
  return rows
}
