import { useEffect, useMemo, useRef } from 'preact/hooks'
import { type LaneChart, openLaneChart } from '../../chart/lane-chart.ts'
import { laneAirPx, placeOnLane } from '../../chart/lane-scale.ts'
import type { Span } from '../../chart/night-span.ts'
import { shownTheme } from '../../state/theme.ts'
import { night } from '../../words/english/night.ts'
import { showLaneValue } from '../../words/lane-words.ts'
import type { Reader } from '../../words/reader.ts'
import { type NightLane, nightPaint } from './night-paint.ts'
import { rightPx, type Scrub } from './scrub.ts'

/** Where a moment stands between left and right. */
export const leftAt = (atMs: number, view: Span): string =>
  `calc((100% - ${rightPx}px) * ${(atMs - view.fromMs) / (view.toMs - view.fromMs)})`

/** One lane on the common axis of time: water, line, tests, unsafe stretches, marks, and the moment that is read. */
export function NightRun(
  given: Readonly<{
    lane: NightLane
    label: string
    whole: Span
    view: Span
    hourMarks: readonly number[]
    spells: readonly Span[]
    /** When something was written down, and when an alarm rang. */
    marks: readonly Readonly<{ atMs: number; isAlarm: boolean }>[]
    cursorMs: number | null
    scrub: Scrub
    reader: Reader
  }>
) {
  const { lane, whole, view, hourMarks, cursorMs, scrub } = given
  const canvas = useRef<HTMLCanvasElement>(null)
  const chart = useRef<LaneChart | null>(null)
  const run = useRef<HTMLDivElement>(null)
  const theme = shownTheme.value
  const paint = useMemo(
    () => nightPaint({ ...lane, whole, view, hourMarks }),
    [lane, whole, view.fromMs, view.toMs, hourMarks]
  )
  useEffect(() => {
    if (canvas.current === null) return
    if (chart.current === null) chart.current = openLaneChart(canvas.current, paint)
    else chart.current.paint(paint)
    // On paper the lines are dark, whatever the screen shows.
    const paintAs = (name: string) => () => {
      document.documentElement.dataset.theme = name
      chart.current?.paint(paint)
    }
    const [before, after] = [paintAs('paper'), paintAs(theme)]
    window.addEventListener('beforeprint', before)
    window.addEventListener('afterprint', after)
    return () => {
      window.removeEventListener('beforeprint', before)
      window.removeEventListener('afterprint', after)
    }
  }, [paint, theme])
  useEffect(() => {
    // Only a listener that is not passive may keep the page from growing under Ctrl and the wheel.
    const place = run.current
    place?.addEventListener('wheel', scrub.onWheel, { passive: false })
    return () => {
      place?.removeEventListener('wheel', scrub.onWheel)
      chart.current?.close()
      chart.current = null
    }
  }, [])
  const isShown = (atMs: number): boolean => atMs >= view.fromMs && atMs <= view.toMs
  return (
    <div
      ref={run}
      class="lane-run night-run"
      onPointerDown={scrub.onPointerDown}
      onPointerMove={scrub.onPointerMove}
      onPointerUp={scrub.onPointerUp}
      onPointerCancel={scrub.onPointerUp}
    >
      <canvas ref={canvas} role="img" aria-label={given.label} />
      {given.spells
        .map(({ fromMs, toMs }) => ({
          fromMs: Math.max(fromMs, view.fromMs),
          toMs: Math.min(toMs, view.toMs)
        }))
        .filter(({ fromMs, toMs }) => toMs >= fromMs)
        .map(({ fromMs, toMs }) => (
          <span
            key={fromMs}
            class="night-spell"
            style={{
              left: leftAt(fromMs, view),
              width: `calc((100% - ${rightPx}px) * ${(toMs - fromMs) / (view.toMs - view.fromMs)})`
            }}
          >
            <b aria-hidden="true">{night.spell}</b>
          </span>
        ))}
      {given.marks
        .filter(({ atMs }) => isShown(atMs))
        .map(({ atMs, isAlarm }) => (
          <span
            key={`${atMs}${isAlarm}`}
            class={isAlarm ? 'night-mark night-mark-alarm' : 'night-mark'}
            style={{ left: leftAt(atMs, view) }}
          />
        ))}
      {cursorMs !== null && isShown(cursorMs) && (
        <span class="night-cursor" style={{ left: leftAt(cursorMs, view) }} />
      )}
      {[lane.band.high, lane.band.low].map((limit, at) =>
        limit === null || (limit === 0 && at === 1) ? null : (
          <span
            key={at === 0 ? 'high' : 'low'}
            class="bank"
            aria-hidden="true"
            style={{
              top: `calc(${laneAirPx}px + (100% - ${2 * laneAirPx}px) * ${placeOnLane(limit, paint.scale)})`
            }}
          >
            {
              showLaneValue(
                {
                  lane: lane.lane,
                  source: lane.lane === 'ph' ? 'test' : 'probe',
                  basis: lane.lane === 'nitrite' ? lane.basis : null
                },
                limit,
                given.reader
              ).digits
            }
          </span>
        )
      )}
    </div>
  )
}
