import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import { laneFacts, laneFromMs, laneNames } from '../chart/lane-facts.ts'
import { type Span, spanWord } from '../chart/night-span.ts'
import { nowMs } from '../state/pulse.ts'
import { addressOf } from '../state/route.ts'
import { tracks } from '../state/watch.ts'
import { laneWords } from '../words/lane-words.ts'
import { timeOfDay } from '../words/moments.ts'
import type { Reader } from '../words/reader.ts'
import { say } from '../words/say.ts'
import { lanesBehind } from './alarm-lanes.ts'
import { Behind } from './behind.tsx'
import { LaneRun } from './wall/lane-run.tsx'

const aroundMs = 12 * 3_600_000

/** What was measured in the last day, with the moment at which the alarm rang; of an older one, the day around it. */
export function AlarmEvidence(given: Readonly<{ alarm: AlarmView; now: NowView; reader: Reader }>) {
  const { alarm, now, reader } = given
  const fromMs = laneFromMs(nowMs.value)
  if (alarm.raisedAtMs < fromMs) return <Then alarm={alarm} reader={reader} />
  const lanes = lanesBehind(alarm, {
    heard: laneNames.filter((lane) => laneFacts(lane, now, nowMs.value).source !== 'none'),
    probeOf: (lane) => now.readings[lane]?.probe
  })
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

type PastGiven = Readonly<{ alarm: AlarmView; span: Span; reader: Reader }>

/** Of an alarm of another day: what was measured then, and the way to all of that day. */
function Then({ alarm, reader }: Omit<PastGiven, 'span'>) {
  const [Evidence, setEvidence] = useState<ComponentType<PastGiven> | null>(null)
  useEffect(() => {
    import('./past-evidence.tsx')
      .then(({ PastEvidence }) => setEvidence(() => PastEvidence))
      // Without it the way to that day is still there.
      .catch(() => undefined)
  }, [])
  const span = { fromMs: alarm.raisedAtMs - aroundMs, toMs: alarm.raisedAtMs + aroundMs }
  return (
    <section class="sheet evidence">
      <h2>{say.alarm.evidenceThen}</h2>
      {Evidence !== null && <Evidence {...{ alarm, span, reader }} />}
      <p>
        <a class="button" href={addressOf('night', alarm.tankId, spanWord(span))}>
          {say.alarm.showThen}
        </a>
      </p>
    </section>
  )
}
