import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import { type LaneName, laneFacts, laneFromMs, laneNames } from '../chart/lane-facts.ts'
import { spanWord } from '../chart/night-span.ts'
import { nowMs } from '../state/pulse.ts'
import { addressOf } from '../state/route.ts'
import { tracks } from '../state/watch.ts'
import { laneWords } from '../words/lane-words.ts'
import { timeOfDay } from '../words/moments.ts'
import type { Reader } from '../words/reader.ts'
import { say } from '../words/say.ts'
import { Behind } from './behind.tsx'
import { LaneRun } from './wall/lane-run.tsx'

const lanesOfKind: Readonly<Record<string, readonly LaneName[]>> = {
  'heater-not-heating': ['temperature'],
  'heater-stuck-on': ['temperature'],
  'heater-weak': ['temperature'],
  'water-cold': ['temperature'],
  'water-cold-danger': ['temperature'],
  'water-warm': ['temperature'],
  'water-warm-danger': ['temperature'],
  'temperature-swing': ['temperature'],
  'power-cut': ['temperature'],
  'ph-falling': ['ph'],
  'ph-crash': ['ph'],
  'ph-out-of-band': ['ph'],
  'alkalinity-low': ['ph'],
  'ammonia-unsafe': ['nh3', 'ph'],
  'nitrite-unsafe': ['nitrite'],
  'test-overdue': ['nh3', 'nitrite']
}

/** The lanes on which an alarm rests, as far as they are heard: of its kind, of its probe; else how the water was meanwhile. */
function lanesOf(alarm: AlarmView, now: NowView): readonly LaneName[] {
  const heard = laneNames.filter((lane) => laneFacts(lane, now, nowMs.value).source !== 'none')
  const known = lanesOfKind[alarm.kind]?.filter((lane) => heard.includes(lane)) ?? []
  if (known.length > 0) return known
  const quantities = String(alarm.finding?.facts?.quantity ?? alarm.finding?.facts?.quantities ?? '')
  const own = heard.filter(
    (lane) => now.readings[lane]?.probe === alarm.subject || quantities.split(', ').includes(lane)
  )
  return own.length > 0 ? own : heard.slice(0, 1)
}

const aroundMs = 12 * 3_600_000

/** What was measured in the last day, with the moment at which the alarm rang; of an older one, the way to its day. */
export function AlarmEvidence(given: Readonly<{ alarm: AlarmView; now: NowView; reader: Reader }>) {
  const { alarm, now, reader } = given
  const fromMs = laneFromMs(nowMs.value)
  if (alarm.raisedAtMs < fromMs) {
    const span = { fromMs: alarm.raisedAtMs - aroundMs, toMs: alarm.raisedAtMs + aroundMs }
    return (
      <section class="sheet">
        <h2>{say.alarm.evidenceThen}</h2>
        <p>
          <a class="button" href={addressOf('night', alarm.tankId, spanWord(span))}>
            {say.alarm.showThen}
          </a>
        </p>
      </section>
    )
  }
  const lanes = lanesOf(alarm, now)
  if (lanes.length === 0) return null
  const frac = (alarm.raisedAtMs - fromMs) / (nowMs.value - fromMs)
  const rang = say.alarm.rang(timeOfDay(alarm.raisedAtMs, reader))
  return (
    <section class="sheet evidence">
      <h2>{say.alarm.evidence}</h2>
      {lanes.map((lane) => {
        const facts = laneFacts(lane, now, nowMs.value)
        const words = laneWords(facts, nowMs.value, reader)
        return (
          <figure key={lane}>
            <figcaption>
              <Behind class="behind behind-all" ask={() => ({ kind: 'lane', lane })}>
                <b>{words.name}</b> {words.sentence}
              </Behind>
            </figcaption>
            <LaneRun
              facts={facts}
              words={words}
              track={tracks.value[lane]}
              nowMs={nowMs.value}
              hourMarks={[alarm.raisedAtMs]}
            />
          </figure>
        )
      })}
      <p class="evidence-rule">
        <span class="soft" aria-hidden="true">
          {timeOfDay(fromMs, reader)}
        </span>
        <b class={frac > 0.8 ? 'evidence-late' : undefined} style={{ left: `calc((100% - 14px) * ${frac})` }}>
          {rang}
        </b>
      </p>
    </section>
  )
}
