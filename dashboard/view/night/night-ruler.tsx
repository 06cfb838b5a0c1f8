import { clockMarks, type HourAt, type Span } from '../../chart/night-span.ts'
import { night } from '../../words/english/night.ts'
import { dateFormat } from '../../words/formats.ts'
import { hourOf, timeOfDay } from '../../words/moments.ts'
import { momentIn } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import type { Mark } from './night-marks.tsx'
import { leftAt } from './night-run.tsx'
import { keyDeed, rightPx, type Scrub } from './scrub.ts'

/** The one axis of time, and the handle on it: arrow keys move the moment at which every lane is read. */
export function NightRuler(
  given: Readonly<{
    view: Span
    whole: Span
    cursorMs: number | null
    hourMarks: readonly number[]
    /** All lanes at that moment, for ears. */
    spoken: string
    scrub: Scrub
    reader: Reader
    onMove: (next: Readonly<{ atMs: number; view: Span }>) => void
  }>
) {
  const { view, whole, cursorMs, reader, scrub } = given
  const isLong = whole.toMs - whole.fromMs > 26 * 3_600_000
  const label = (atMs: number): string =>
    isLong && hourOf(atMs, reader) === 0
      ? dateFormat(reader.locale === 'en' ? 'en-GB' : reader.locale, {
          day: 'numeric',
          month: 'short',
          timeZone: reader.timeZone
        }).format(atMs)
      : timeOfDay(atMs, reader)
  const isShown = cursorMs !== null && cursorMs >= view.fromMs && cursorMs <= view.toMs
  const length = view.toMs - view.fromMs
  return (
    <div
      class="night-ruler"
      role="slider"
      tabIndex={0}
      aria-label={night.scrub}
      aria-valuemin={Math.round(whole.fromMs / 60_000)}
      aria-valuemax={Math.round(whole.toMs / 60_000)}
      aria-valuenow={Math.round((cursorMs ?? whole.toMs) / 60_000)}
      aria-valuetext={cursorMs === null ? night.noTime : given.spoken}
      onPointerDown={scrub.onPointerDown}
      onPointerMove={scrub.onPointerMove}
      onPointerUp={scrub.onPointerUp}
      onPointerCancel={scrub.onPointerUp}
      onKeyDown={(event) => {
        if (event.ctrlKey || event.metaKey || event.altKey) return
        const deed = keyDeed(event.key, {
          atMs: cursorMs ?? view.toMs,
          view,
          within: whole,
          isShift: event.shiftKey
        })
        if (deed === null) return
        event.preventDefault()
        given.onMove(deed)
      }}
    >
      {given.hourMarks.map((atMs) => (
        <span
          key={atMs}
          class={(atMs - view.fromMs) / length > 0.9 ? 'night-hour night-hour-late' : 'night-hour'}
          style={{ left: leftAt(atMs, view) }}
        >
          {label(atMs)}
        </span>
      ))}
      {isShown && (
        <b
          class={(cursorMs - view.fromMs) / length > 0.75 ? 'night-handle night-handle-late' : 'night-handle'}
          style={{ left: leftAt(cursorMs, view) }}
        >
          {momentIn(cursorMs, whole, reader)}
        </b>
      )}
    </div>
  )
}

/** Nearer than this share of the width, a label gives way to the one before it. */
const apartFrac = 0.14
const weight: Readonly<Record<Mark['kind'], number>> = { alarm: 3, event: 2, test: 1, spell: 0 }

/** What was written down, tested and rung, in a word each where it stands on the axis; the list below says it all. */
export function NightLabels({ marks, view }: Readonly<{ marks: readonly Mark[]; view: Span }>) {
  const length = view.toMs - view.fromMs
  const shown: { key: string; frac: number; words: string }[] = []
  // What matters most takes its place first: alarms, then what was done, then tests.
  for (const { key, kind, atMs, short } of marks.toSorted((a, b) => weight[b.kind] - weight[a.kind])) {
    const frac = (atMs - view.fromMs) / length
    if (kind === 'spell' || frac < 0 || frac > 0.97) continue
    if (shown.every((one) => Math.abs(one.frac - frac) >= apartFrac)) shown.push({ key, frac, words: short })
  }
  shown.sort((a, b) => a.frac - b.frac)
  return (
    <div class="night-labels" aria-hidden="true">
      {shown.map(({ key, frac, words }, at) => (
        <span
          key={key}
          class={frac > lateFrac ? 'night-label-late' : undefined}
          style={{
            left: leftAt(view.fromMs + frac * length, view),
            maxWidth: `calc((100% - ${rightPx}px) * ${roomFrac(shown, at)})`
          }}
        >
          {words}
        </span>
      ))}
    </div>
  )
}

/** From here on a label stands before its moment: behind it there is no room left. */
const lateFrac = 1 - apartFrac

/** The share of the width that a label may fill; two that stand back to back share what is between them. */
function roomFrac(shown: readonly Readonly<{ frac: number }>[], at: number): number {
  const { frac } = shown[at] ?? { frac: 1 }
  const before = shown[at - 1]
  const after = shown[at + 1]
  if (frac > lateFrac) return before === undefined ? frac : (frac - before.frac) / 2
  if (after === undefined) return 1 - frac
  return after.frac > lateFrac ? (after.frac - frac) / 2 : after.frac - frac
}

/** Round moments for the ruler and for the hairlines through all lanes. */
export const marksOf = (view: Span, hourAt: HourAt): readonly number[] => clockMarks(view, hourAt)
