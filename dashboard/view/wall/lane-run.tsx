import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { nitriteFromN } from '../../../services/water/conversions.ts'
import type { LaneChart, LanePaint } from '../../chart/lane-chart.ts'
import { laneColumns, stretchesOf, type XY } from '../../chart/lane-columns.ts'
import { type LaneFacts, laneFromMs } from '../../chart/lane-facts.ts'
import { type LaneScale, laneAirPx, laneScale, placeOnLane } from '../../chart/lane-scale.ts'
import { reloadOnce } from '../../state/reload.ts'
import { shownTheme } from '../../state/theme.ts'
import type { Track } from '../../state/watch.ts'
import type { LaneWords } from '../../words/lane-words.ts'
import { say } from '../../words/say.ts'

/** The lane itself: banks, the last 24 hours between them, and the head of the line. */
export function LaneRun(
  given: Readonly<{
    facts: LaneFacts
    words: LaneWords
    track: Track | undefined
    nowMs: number
    hourMarks: readonly number[]
  }>
) {
  const { facts, words, track, nowMs } = given
  const canvas = useRef<HTMLCanvasElement>(null)
  const chart = useRef<LaneChart | null>(null)
  const theme = shownTheme.value
  // A day is drawn on some hundreds of pixels: between two minutes the lane does not move by one.
  const minute = Math.floor(nowMs / 60_000)
  const { value, low, high, stale, source, atMs } = facts
  const { paint, scale } = useMemo(
    () => paintOf(facts, track, nowMs, given.hourMarks),
    [track, value, low, high, stale, source, atMs, facts.band.low, facts.band.high, minute]
  )

  const open = useChartOpener()
  useEffect(() => {
    if (canvas.current === null || open === null) return
    if (chart.current === null) chart.current = open(canvas.current, paint)
    else chart.current.paint(paint)
  }, [open, seenOf(paint), minute, theme])
  useEffect(
    () => () => {
      chart.current?.close()
      chart.current = null
    },
    []
  )

  return (
    <div class="lane-run">
      <canvas
        ref={canvas}
        role="img"
        aria-label={`${say.wall.chart(words.name, words.sentence)}${marksForEars(paint)}`}
      />
      <Bank
        limit={facts.band.high}
        words={words.bankHigh}
        label={say.wall.bankHigh}
        scale={scale}
        side="high"
      />
      <Bank limit={facts.band.low} words={words.bankLow} label={say.wall.bankLow} scale={scale} side="low" />
    </div>
  )
}

const againMs = 5_000
type Opener = (canvas: HTMLCanvasElement, paint: LanePaint) => LaneChart

/** What draws the lines comes after the numbers: they can be read without it. Null until it is here. */
function useChartOpener(): Opener | null {
  const [open, setOpen] = useState<Opener | null>(null)
  useEffect(() => {
    let again: ReturnType<typeof setTimeout> | null = null
    const load = (): void => {
      import('../../chart/lane-chart.ts')
        .then(({ openLaneChart }) => setOpen(() => openLaneChart))
        .catch(async () => {
          if (!(await reloadOnce())) again = setTimeout(load, againMs)
        })
    }
    load()
    return () => {
      if (again !== null) clearTimeout(again)
    }
  }, [])
  return open
}

function Bank(
  given: Readonly<{
    limit: number | null
    words: string
    label: (limit: string) => string
    scale: LaneScale
    side: 'high' | 'low'
  }>
) {
  if (given.limit === null || given.words === '') return null
  return (
    <span
      class={`bank bank-${given.side}`}
      style={{
        top: `calc(${laneAirPx}px + (100% - ${2 * laneAirPx}px) * ${placeOnLane(given.limit, given.scale)})`
      }}
    >
      <span class="for-ears">{given.label(given.words)}</span>
      <span aria-hidden="true">{given.words}</span>
    </span>
  )
}

/** Finer than the pixels of a lane. */
const lanePixels = 256

/** All that shows of a lane, in short: a live value that moves nothing by a pixel is not drawn again. */
function seenOf({ columns, scale, band, head, marks, brokenFromMs }: LanePaint): string {
  const at = (value: number): number => Math.round(placeOnLane(value, scale) * lanePixels)
  const sum = (list: readonly XY[]): number =>
    list.reduce((total, { x, y }) => total + (Number.isNaN(y) ? x % 9973 : at(y)), list.length)
  return [
    ...[columns.line, columns.low, columns.high, columns.suspect, columns.failed, marks].map(sum),
    ...(head === null
      ? []
      : [at(head.value), at(head.low ?? head.value), at(head.high ?? head.value), head.stale]),
    ...[scale.bottom, scale.top, band.low, band.high, brokenFromMs]
  ].join()
}

/** Nobody tests by hand more often than once an hour. Common practice, no source. */
const mostTestsADay = 24

function paintOf(
  facts: LaneFacts,
  track: Track | undefined,
  nowMs: number,
  hourMarks: readonly number[]
): Readonly<{ paint: LanePaint; scale: LaneScale }> {
  const fromMs = laneFromMs(nowMs)
  const points = track?.points ?? []
  const gapMs = Math.max((track?.stepMs ?? 0) * 2.5, 15 * 60_000)
  const isTyped = facts.source === 'test'
  // A test stands for a probe that is no longer in the tank; what that one said goes on being a line.
  const isHeard = !isTyped || (facts.lane !== 'nitrite' && points.length > mostTestsADay)
  const heard = isHeard ? points : []
  const free = laneColumns({ points: heard, fromMs, gapMs, rim: null })
  const values = [free.lowest, free.highest, facts.value, facts.high].filter((value) => value !== null)
  const scale = laneScale({
    lane: facts.lane,
    band: facts.band,
    lowest: values.length === 0 ? null : Math.min(...values),
    highest: values.length === 0 ? null : Math.max(...values)
  })
  const columns = laneColumns({ points: heard, fromMs, gapMs, rim: scale })
  const head =
    facts.value === null
      ? null
      : { value: facts.value, low: facts.low, high: facts.high, stale: facts.stale || isTyped }
  const brokenFromMs = isTyped
    ? Math.max(facts.atMs ?? fromMs, free.lastMs ?? fromMs, fromMs)
    : facts.stale
      ? (facts.atMs ?? free.lastMs)
      : null
  const marks = isTyped ? marksOf(facts, isHeard ? [] : points, fromMs) : []
  return {
    scale,
    paint: {
      columns,
      scale,
      band: facts.band,
      fromMs,
      toMs: nowMs,
      hourMarks,
      floor: facts.lane === 'nh3' || facts.lane === 'nitrite' ? 0 : null,
      brush: facts.source === 'derived',
      head,
      brokenFromMs,
      marks,
      markWords: { suspect: say.wall.suspectMark, failed: say.wall.failedMark }
    }
  }
}

const stretchMs = 30 * 60_000
/** What rings and struck rings tell to eyes. */
function marksForEars({ columns }: LanePaint): string {
  const suspect = stretchesOf(columns.suspect, stretchMs)
  const failed = stretchesOf(columns.failed, stretchMs)
  return [
    suspect === 0 ? '' : ` ${say.wall.suspectStretches(suspect)}`,
    failed === 0 ? '' : ` ${say.wall.failedStretches(failed)}`
  ].join('')
}

/** Water tests as single marks, in the basis of the kit; the newest stands with its exact time. */
function marksOf(facts: LaneFacts, points: Track['points'], fromMs: number): readonly XY[] {
  const newestMs = facts.atMs ?? fromMs
  const basis = facts.basis === 'NO2' ? 'NO2' : 'N'
  const shown = (value: number): number =>
    facts.lane === 'nitrite' ? nitriteFromN({ nitriteMgLAsN: value, basis }) : value
  const older = points
    .filter((point) => point.atMs >= fromMs && point.atMs < newestMs - 60_000)
    .flatMap((point) => (point.mean === null ? [] : [{ x: point.atMs, y: shown(point.mean) }]))
  if (facts.value === null || newestMs < fromMs) return older
  return [...older, { x: newestMs, y: facts.value }]
}
