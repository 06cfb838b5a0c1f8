import '../style/night.css'
import { useEffect, useMemo } from 'preact/hooks'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { Span } from '../chart/night-span.ts'
import { night, openNight } from '../state/night.ts'
import { now } from '../state/watch.ts'
import { night as words } from '../words/english/night.ts'
import { hourOf, timeOfDay } from '../words/moments.ts'
import type { Reader } from '../words/reader.ts'
import { say } from '../words/say.ts'
import { lanesBehind } from './alarm-lanes.ts'
import { lanesOf, spellsOn } from './night/night-given.ts'
import { NightLaneFigure } from './night/night-lane.tsx'
import { marksOf } from './night/night-ruler.tsx'

/** Nothing is read off here: the day itself, one touch away, can be read moment by moment. */
const still = {
  onPointerDown: () => undefined,
  onPointerMove: () => undefined,
  onPointerUp: () => undefined,
  onWheel: () => undefined
}

/** What was measured around an alarm of another day: its own lanes, with the moments at which it rang and was over. */
export function PastEvidence(given: Readonly<{ alarm: AlarmView; span: Span; reader: Reader }>) {
  const { alarm, span, reader } = given
  const { tankId, raisedAtMs, clearedAtMs } = alarm
  useEffect(() => void openNight(tankId, span), [tankId, span.fromMs, span.toMs])
  const heard = night.value
  const isIt = heard?.span.fromMs === span.fromMs && heard.span.toMs === span.toMs
  const state = isIt && heard.isWhole && heard.history !== null ? heard : null
  const lanes = useMemo(() => {
    const all = state === null ? [] : lanesOf(state, null)
    const shown = all.filter(({ points, tests }) => points.length > 0 || tests.length > 0)
    const names = lanesBehind(alarm, {
      heard: shown.map(({ lane }) => lane),
      probeOf: (lane) => now.value?.readings[lane]?.probe
    })
    return names.flatMap((name) => shown.find(({ lane }) => lane === name) ?? [])
  }, [state, alarm.kind, alarm.subject])
  const hourMarks = useMemo(() => marksOf(span, (atMs) => hourOf(atMs, reader)), [span.fromMs, span.toMs])
  if (state === null) return <p class="soft">{isIt && heard.fault !== null ? heard.fault : words.asking}</p>
  if (lanes.length === 0) return null
  const frac = (raisedAtMs - span.fromMs) / (span.toMs - span.fromMs)
  const marks = [
    { atMs: raisedAtMs, isAlarm: true },
    ...(clearedAtMs === null ? [] : [{ atMs: clearedAtMs, isAlarm: false }])
  ]
  return (
    <>
      {lanes.map((lane) => (
        <NightLaneFigure
          key={lane.lane}
          {...{ lane, hourMarks, marks, reader }}
          whole={span}
          view={span}
          table={lane}
          spells={spellsOn(lane.lane, state.history?.spells ?? [])}
          cursorMs={null}
          scrub={still}
        />
      ))}
      <p class="evidence-rule">
        <span class="soft" aria-hidden="true">
          {timeOfDay(span.fromMs, reader)}
        </span>
        <b style={{ left: `calc((100% - 14px) * ${frac})` }}>
          {say.alarm.rang(timeOfDay(raisedAtMs, reader))}
        </b>
      </p>
    </>
  )
}
