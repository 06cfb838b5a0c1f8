import { nitriteFromN } from '../../../services/water/conversions.ts'
import type { LanePaint } from '../../chart/lane-chart.ts'
import { laneColumns, type TrackPoint, type XY } from '../../chart/lane-columns.ts'
import type { LaneBand, LaneName } from '../../chart/lane-facts.ts'
import { laneScale } from '../../chart/lane-scale.ts'
import { gapMsOf, goodPoints } from '../../chart/night-facts.ts'
import type { Span } from '../../chart/night-span.ts'
import type { Track } from '../../state/watch.ts'
import { say } from '../../words/say.ts'

/** A lane of a stretch of time, in the units in which it is shown. */
export type NightLane = Readonly<{
  lane: LaneName
  band: LaneBand
  basis: 'N' | 'NO2'
  points: readonly TrackPoint[]
  stepMs: number
  /** Water tests of this quantity as single marks. */
  tests: readonly XY[]
  /** The same lane of days before, moved onto these hours. */
  beside: readonly (readonly TrackPoint[])[]
}>

/** Nitrite is kept as nitrogen and shown as the kit says it. */
export function shownPoints(
  lane: LaneName,
  track: Track | undefined,
  basis: 'N' | 'NO2',
  movedMs = 0
): readonly TrackPoint[] {
  const shown = (value: number | null): number | null =>
    value === null || lane !== 'nitrite' ? value : nitriteFromN({ nitriteMgLAsN: value, basis })
  return (track?.points ?? []).map(({ atMs, mean, min, max, flag }) => ({
    ...{ atMs: atMs + movedMs, flag },
    ...{ mean: shown(mean), min: shown(min), max: shown(max) }
  }))
}

/** What the chart draws of a lane between two moments; the height is that of the whole stretch, so that it never jumps. */
export function nightPaint(
  given: NightLane & Readonly<{ whole: Span; view: Span; hourMarks: readonly number[] }>
): LanePaint {
  const { lane, band, points, stepMs, tests, beside, whole, view } = given
  const all = [points, ...beside].flatMap((one) => goodPoints(one, whole))
  const typed = tests.filter(({ x }) => x >= whole.fromMs).map(({ y }) => y)
  const lows = [...all.map(({ min }) => min), ...typed]
  const highs = [...all.map(({ max }) => max), ...typed]
  const scale = laneScale({
    lane,
    band,
    lowest: lows.length === 0 ? null : lows.reduce((a, b) => Math.min(a, b)),
    highest: highs.length === 0 ? null : highs.reduce((a, b) => Math.max(a, b))
  })
  // A step more on either side, so that the line reaches the rims.
  const around = { fromMs: view.fromMs - stepMs, toMs: view.toMs + stepMs }
  const near = points.filter(({ atMs }) => atMs >= around.fromMs && atMs <= around.toMs)
  const ask = { fromMs: around.fromMs, gapMs: gapMsOf(stepMs), rim: scale }
  const isTyped = lane === 'nitrite'
  return {
    columns: laneColumns({ ...ask, points: isTyped ? [] : near }),
    scale,
    band,
    fromMs: view.fromMs,
    toMs: view.toMs,
    hourMarks: given.hourMarks,
    floor: lane === 'nh3' || lane === 'nitrite' ? 0 : null,
    brush: lane === 'nh3',
    head: null,
    brokenFromMs: null,
    marks: tests.filter(({ x }) => x >= view.fromMs && x <= view.toMs),
    markWords: { suspect: say.wall.suspectMark, failed: say.wall.failedMark },
    beside: beside.map((one) => laneColumns({ ...ask, points: one }).line)
  }
}
