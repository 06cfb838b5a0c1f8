import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import type { HistoryView } from '../../../services/contract/history-view.ts'
import { type HourAt, moved, type Span, zoomed } from '../../chart/night-span.ts'
import { closeUp, lookCloser, nightsBefore } from '../../state/night.ts'
import { night } from '../../words/english/night.ts'
import { momentIn } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { laneOf, spellsOn } from './night-given.ts'
import { NightLaneFigure, readoutOf } from './night-lane.tsx'
import { type Mark, NightMarks } from './night-marks.tsx'
import type { NightLane } from './night-paint.ts'
import { marksOf, NightLabels, NightRuler } from './night-ruler.tsx'
import { makeScrub } from './scrub.ts'

const settleMs = 250
/** Nearer than this share of the whole, finer steps are asked for. */
const nearFrac = 0.7

/** All lanes on one axis of time, with the moment that is read and the stretch that is looked at. */
export function NightLanes(
  given: Readonly<{
    tankId: string
    lanes: readonly NightLane[]
    whole: Span
    marks: readonly Mark[]
    spells: HistoryView['spells']
    reader: Reader
    hourAt: HourAt
    onBefore: () => void
  }>
) {
  const { lanes, whole, reader, hourAt } = given
  const [view, setView] = useState<Span>(whole)
  const [cursorMs, setCursor] = useState<number | null>(null)
  const [showsBefore, setShowsBefore] = useState(false)
  const seen = useRef({ view, whole })
  seen.current = { view, whole }
  const scrub = useMemo(
    () =>
      makeScrub({
        view: () => seen.current.view,
        within: () => seen.current.whole,
        onRead: setCursor,
        onView: setView
      }),
    []
  )
  const isNear = view.toMs - view.fromMs < nearFrac * (whole.toMs - whole.fromMs)
  useEffect(() => {
    if (!isNear) return
    const timer = setTimeout(() => void lookCloser(given.tankId, view), settleMs)
    return () => clearTimeout(timer)
  }, [view.fromMs, view.toMs, isNear])
  const close = closeUp.value
  const drawn = useMemo(
    () =>
      lanes.map((lane) => closer(showsBefore ? lane : { ...lane, beside: [] }, isNear ? close : null, view)),
    [lanes, close, isNear, showsBefore, view.fromMs, view.toMs]
  )
  const hourMarks = useMemo(() => marksOf(view, hourAt), [view.fromMs, view.toMs, hourAt])
  const marks = useMemo(
    () =>
      given.marks
        .filter(({ kind }) => kind !== 'spell')
        .map(({ atMs, kind }) => ({ atMs, isAlarm: kind === 'alarm' })),
    [given.marks]
  )
  const spoken =
    cursorMs === null
      ? ''
      : [
          `${momentIn(cursorMs, whole, reader)}.`,
          ...drawn.map((lane) => `${say.wall.lane[lane.lane]}: ${readoutOf(lane, cursorMs, whole, reader)}.`)
        ].join(' ')
  const middleMs = cursorMs ?? (view.fromMs + view.toMs) / 2
  const zoom = (factor: number): void => setView(zoomed(view, { factor, aroundMs: middleMs, within: whole }))
  const before = nightsBefore.value
  return (
    <>
      <section class="sheet night-lanes">
        <h2>{night.lanes}</h2>
        <div class="row night-tools">
          <button type="button" class="button" onClick={() => zoom(0.5)}>
            {night.nearer}
          </button>
          <button type="button" class="button" disabled={!isZoomed(view, whole)} onClick={() => zoom(2)}>
            {night.wider}
          </button>
          {isZoomed(view, whole) && (
            <>
              <button type="button" class="button" onClick={() => setView(moved(view, -0.5, whole))}>
                {night.earlier}
              </button>
              <button type="button" class="button" onClick={() => setView(moved(view, 0.5, whole))}>
                {night.later}
              </button>
              <button type="button" class="button" onClick={() => setView(whole)}>
                {night.whole}
              </button>
            </>
          )}
          <label class="choice">
            <input
              type="checkbox"
              checked={showsBefore}
              onChange={(event) => {
                setShowsBefore(event.currentTarget.checked)
                if (event.currentTarget.checked && before === null) given.onBefore()
              }}
            />
            <span>{night.beforeToggle}</span>
          </label>
          <button type="button" class="button" onClick={() => window.print()}>
            {night.print}
          </button>
        </div>
        <p class="soft night-hint">
          {night.hint} {night.edges}
          {showsBefore && before !== null && (
            <b>
              {' '}
              {lanes.some(({ beside }) => beside.some((points) => points.length > 0))
                ? night.beforeLegend
                : night.beforeNone}
            </b>
          )}
        </p>
        <NightRuler
          {...{ view, whole, cursorMs, hourMarks, spoken, scrub, reader }}
          onMove={(next) => {
            setCursor(next.atMs)
            setView(next.view)
          }}
        />
        <NightLabels marks={given.marks} view={view} />
        {drawn.map((lane, at) => (
          <NightLaneFigure
            key={lane.lane}
            {...{ lane, whole, view, hourMarks, marks, cursorMs, scrub, reader }}
            table={lanes[at] ?? lane}
            spells={spellsOn(lane.lane, given.spells)}
          />
        ))}
      </section>
      <NightMarks
        marks={given.marks}
        span={whole}
        reader={reader}
        onGo={(atMs) => {
          setCursor(Math.max(whole.fromMs, Math.min(whole.toMs, atMs)))
          if (atMs < view.fromMs || atMs > view.toMs) setView(whole)
          document.querySelector('.night-ruler')?.scrollIntoView({ block: 'start' })
        }}
      />
    </>
  )
}

const isZoomed = (view: Span, whole: Span): boolean =>
  view.toMs - view.fromMs < whole.toMs - whole.fromMs - 1000

/** The finer steps where they cover what is looked at; nitrite is its tests, as fine as they are. */
function closer(lane: NightLane, close: typeof closeUp.value, view: Span): NightLane {
  if (close === null || lane.lane === 'nitrite') return lane
  if (close.view.fromMs > view.fromMs || close.view.toMs < view.toMs) return lane
  const { points, stepMs } = laneOf(
    lane.lane,
    { tracks: close.tracks, history: null, span: close.view },
    null
  )
  return points.length === 0 ? lane : { ...lane, points, stepMs }
}
