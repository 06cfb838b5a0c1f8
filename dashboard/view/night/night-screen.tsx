import '../../style/night.css'
import { useEffect, useMemo } from 'preact/hooks'
import {
  endOfMinute,
  lastDays,
  lastNight,
  parseSpan,
  type Span,
  spanWord,
  untilNow
} from '../../chart/night-span.ts'
import { may, reader } from '../../state/house.ts'
import { night as heard, loadNightsBefore, nightsBefore, openNight } from '../../state/night.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf, route, tank, tankId } from '../../state/route.ts'
import { entriesRevision, now } from '../../state/watch.ts'
import { behind } from '../../words/english/behind.ts'
import { night } from '../../words/english/night.ts'
import { hourOf, momentWords } from '../../words/moments.ts'
import { nightStory } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { storyAnswer } from '../answer/story-answer.ts'
import { Behind } from '../behind.tsx'
import { factsOf, lanesOf } from './night-given.ts'
import { NightLanes } from './night-lanes.tsx'
import { marksIn } from './night-marks.tsx'
import { NightPeriod } from './night-period.tsx'

const minuteMs = 60_000
/** While a night still goes on it is asked for anew this often. */
const renewMs = 5 * minuteMs

/** Any stretch of time, last night unless asked: one paragraph, the lanes side by side, and what happened. */
export function NightScreen() {
  const id = tankId.value
  const zone = tank.value?.profile.timeZone
  const asked = route.value.id
  const local = useMemo(() => ({ ...reader.value, timeZone: zone }), [reader.value, zone])
  const hourAt = useMemo(() => (atMs: number) => hourOf(atMs, local), [local])
  const renewed = Math.floor(nowMs.value / renewMs)
  const span = useMemo(
    () => untilNow(parseSpan(asked) ?? lastNight(nowMs.value, hourAt), endOfMinute(nowMs.value)),
    [asked, hourAt, renewed, entriesRevision.value]
  )
  const isOver = span.toMs < nowMs.value - 2 * renewMs
  useEffect(() => {
    if (id !== null) void openNight(id, span)
  }, [id, span.fromMs, span.toMs, entriesRevision.value])
  if (id === null) return <p class="page">{say.wall.noTank}</p>
  const whole = parseSpan(asked) ?? lastNight(nowMs.value, hourAt)
  return (
    <div class="page night-page">
      <header class="night-head">
        <h1>{titleOf(asked, span, isOver, local)}</h1>
        <p class="lead">
          {parseSpan(asked) === null
            ? night.of(tank.value?.profile.name ?? '', ...endsOf(span, local))
            : tank.value?.profile.name}
        </p>
      </header>
      <Told tankId={id} span={span} reader={local} hourAt={hourAt} />
      <NightPeriod key={`${whole.fromMs}-${whole.toMs}`} span={whole} hourAt={hourAt} />
    </div>
  )
}

const endsOf = (span: Span, local: Reader): readonly [string, string] => [
  momentWords(span.fromMs, nowMs.value, local),
  momentWords(span.toMs, nowMs.value, local)
]

function titleOf(asked: string | null, span: Span, isOver: boolean, local: Reader): string {
  if (parseSpan(asked) !== null) return night.titleOther(...endsOf(span, local))
  return isOver ? night.title : night.titleSo
}

function Told(
  given: Readonly<{ tankId: string; span: Span; reader: Reader; hourAt: (atMs: number) => number }>
) {
  const { span, reader: local, hourAt } = given
  const state = heard.value
  const before = nightsBefore.value
  const edges = JSON.stringify([now.value?.bands, now.value?.tests.nitrite?.basis])
  const lanes = useMemo(
    () => (state === null ? [] : lanesOf(state, before)),
    [state?.tracks, state?.history, before, edges]
  )
  const facts = useMemo(
    () => (state === null ? null : factsOf({ state, lanes, before, reader: local, hourAt })),
    [lanes, state?.history]
  )
  const marks = useMemo(
    () => (state?.history == null ? [] : marksIn(state.history, span, local)),
    [state?.history, span, local]
  )
  if (state === null || facts === null || !state.isWhole)
    return <p class="lead">{state?.fault ?? night.asking}</p>
  const isEmpty = lanes.every(({ points, tests }) => points.length === 0 && tests.length === 0)
  if (isEmpty && state.history !== null && marks.length === 0)
    return (
      <section class="sheet night-empty">
        <p class="lead">{night.nothing}</p>
        <p>{night.nothingWhat}</p>
        <p class="row">
          <a
            class="button button-main"
            href={addressOf('night', given.tankId, spanWord(lastDays(1, nowMs.value)))}
          >
            {night.lastDay}
          </a>
          {may('amend') && (
            <a class="button" href={addressOf('probes')}>
              {night.connect}
            </a>
          )}
        </p>
      </section>
    )
  const story = state.history === null ? null : nightStory(facts, local).join(' ')
  return (
    <>
      {state.fault !== null && <p class="fault-box">{state.fault}</p>}
      <section class="night-told" aria-label={night.story}>
        <p class="night-story">{story ?? night.asking}</p>
        {story !== null && (
          <Behind
            class="behind behind-all night-behind"
            ask={() => ({
              kind: 'told',
              answer: storyAnswer({ lanes, span: state.span, value: story, reader: local })
            })}
          >
            {behind.story.open}
          </Behind>
        )}
      </section>
      <NightLanes
        key={state.key}
        {...{ lanes, marks, hourAt }}
        tankId={given.tankId}
        whole={state.span}
        spells={state.history?.spells ?? []}
        reader={local}
        onBefore={() => void loadNightsBefore(given.tankId, state.span, hourAt)}
      />
    </>
  )
}
