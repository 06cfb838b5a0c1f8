import type { HistoryView } from '../../../services/contract/history-view.ts'
import type { XY } from '../../chart/lane-columns.ts'
import { type LaneName, laneFacts, laneNames } from '../../chart/lane-facts.ts'
import { dawnDip, laneStory } from '../../chart/night-facts.ts'
import type { HourAt, Span } from '../../chart/night-span.ts'
import type { Night, nightsBefore } from '../../state/night.ts'
import { now } from '../../state/watch.ts'
import type { NightFacts } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { headOf } from '../../words/sentences.ts'
import { celsiusFromFahrenheit } from '../../words/units.ts'
import { eventWords } from '../diary/event-draft.ts'
import { type NightLane, shownPoints } from './night-paint.ts'

type Before = (typeof nightsBefore)['value']

/** The lanes of a stretch as they are shown: today's edges, the kit's basis, tests as marks. */
export function lanesOf(
  state: Pick<Night, 'tracks' | 'history' | 'span'>,
  before: Before
): readonly NightLane[] {
  return laneNames.map((lane) => laneOf(lane, state, before))
}

export function laneOf(
  lane: LaneName,
  state: Pick<Night, 'tracks' | 'history' | 'span'>,
  before: Before
): NightLane {
  const view = now.value
  const facts = view === null ? null : laneFacts(lane, view, view.atMs)
  const basis = view?.tests.nitrite?.basis === 'NO2' ? 'NO2' : 'N'
  const track = state.tracks[lane]
  const heard = shownPoints(lane, track, basis)
  const typed = typedIn(lane, state.history)
  // Where no probe is, the house answers what was typed in: that is no line of readings.
  const isTyped = typed.length > 0 && heard.every(({ atMs }) => typed.some(({ x }) => x === atMs))
  const points = isTyped ? [] : heard
  return {
    lane,
    band: facts?.band ?? { low: null, high: null, dangerLow: null, dangerHigh: null },
    basis,
    points,
    stepMs: track?.stepMs ?? 0,
    tests:
      lane === 'nitrite'
        ? points.flatMap(({ atMs, mean }) => (mean === null ? [] : [{ x: atMs, y: mean }]))
        : typed,
    beside:
      lane === 'nitrite'
        ? []
        : (before ?? []).map(({ span, tracks }) =>
            shownPoints(lane, tracks[lane], basis, state.span.fromMs - span.fromMs)
          )
  }
}

/** Temperature and pH typed in, oldest first; what was computed has no tests of its own. */
function typedIn(lane: LaneName, history: HistoryView | null): readonly XY[] {
  if (lane !== 'temperature' && lane !== 'ph') return []
  return (history?.tests ?? [])
    .flatMap((test) =>
      test.results
        .filter(({ quantity }) => quantity === lane)
        .map(({ value, unit }) => ({
          x: test.takenAtMs,
          y: unit === 'degF' ? celsiusFromFahrenheit(value) : value
        }))
    )
    .toSorted((a, b) => a.x - b.x)
}

/** All facts from which the paragraph is written. */
export function factsOf(
  given: Readonly<{
    state: Pick<Night, 'span' | 'history'>
    lanes: readonly NightLane[]
    before: Before
    reader: Reader
    hourAt: HourAt
  }>
): NightFacts {
  const { lanes, reader, hourAt } = given
  const { span, history } = given.state
  const ph = lanes.find(({ lane }) => lane === 'ph')
  return {
    span,
    lanes: lanes.map((lane) => laneStory({ ...lane, span })),
    typed: lanes
      .filter(({ lane, points }) => lane !== 'nitrite' && points.length === 0)
      .map(({ lane, tests }) => ({ lane, tests: tests.map(({ x, y }) => ({ atMs: x, value: y })) })),
    nitriteBasis: lanes[0]?.basis ?? 'N',
    dip: ph === undefined ? null : dawnDip(ph.points, span, hourAt),
    events: (history?.events ?? [])
      .toSorted((a, b) => a.atMs - b.atMs)
      .map((event) => ({ atMs: event.atMs, words: eventWords(event.kind, event.data, reader) })),
    alarms: (history?.alarms ?? [])
      .toSorted((a, b) => a.raisedAtMs - b.raisedAtMs)
      .map((alarm) => ({ atMs: alarm.raisedAtMs, words: headOf(alarm.words.what, 0).head })),
    spells: (history?.spells ?? []).toSorted((a, b) => a.fromMs - b.fromMs),
    noLonger: history?.noLonger ?? [],
    before: (given.before ?? []).flatMap(({ span: other, tracks }) =>
      lanes.map(({ lane, basis }) => {
        const points = shownPoints(lane, tracks[lane], basis)
        const { lowest, highest } = laneStory({
          lane,
          points,
          stepMs: tracks[lane]?.stepMs ?? 0,
          span: other
        })
        return { lane, lowest, highest }
      })
    )
  }
}

/** Stretches of one lane in which its water was unsafe. */
export const spellsOn = (lane: LaneName, spells: HistoryView['spells']): readonly Span[] =>
  spells.filter(({ quantity }) => quantity === lane).map(({ fromMs, toMs }) => ({ fromMs, toMs }))
