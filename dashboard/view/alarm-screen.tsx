import { useEffect, useState } from 'preact/hooks'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { findAlarm } from '../state/alarm-list.ts'
import { acting, actOnAlarm, isUnacknowledged } from '../state/alarms.ts'
import type { Asked } from '../state/answer.ts'
import { may } from '../state/house.ts'
import { localReader } from '../state/local-reader.ts'
import { nowMs } from '../state/pulse.ts'
import { addressOf, route } from '../state/route.ts'
import { now } from '../state/watch.ts'
import { momentWords } from '../words/moments.ts'
import { say } from '../words/say.ts'
import { headOf } from '../words/sentences.ts'
import { AlarmEvidence } from './alarm-evidence.tsx'
import { alarmAnswer } from './answer/alarm-answer.ts'
import { timeLeftAnswer } from './answer/time-left-answer.ts'
import { Behind } from './behind.tsx'
import { Field } from './form/field.tsx'
import { PriorityGlyph } from './glyph.tsx'
import { ToldOfAlarm } from './told/told-of-alarm.tsx'

/** One alarm with all it says: what to do, what not, how sure, how long. */
export function AlarmScreen() {
  const { id } = route.value
  const [past, setPast] = useState<AlarmView | null | 'asking'>('asking')
  const live = now.value?.alarms.find((one) => one.id === id)
  useEffect(() => {
    if (id === null || live !== undefined) return
    void findAlarm(id).then(setPast)
  }, [id, live === undefined])
  const alarm = live ?? past
  if (alarm === 'asking') return <p class="page">{say.frame.loading}</p>
  if (alarm === null)
    return (
      <div class="page page-narrow">
        <h1>{say.alarm.gone}</h1>
        <Back />
      </div>
    )
  return <Told alarm={alarm} />
}

const Back = () => (
  <p>
    <a class="button" href={addressOf('now')}>
      {say.alarm.back}
    </a>
  </p>
)

function Told({ alarm }: Readonly<{ alarm: AlarmView }>) {
  const local = localReader()
  const moment = (atMs: number): string => momentWords(atMs, nowMs.value, local)
  const { words } = alarm
  const what = headOf(words.what, 0)
  const why = (): Asked => ({ kind: 'told', answer: alarmAnswer(alarm, moment) })
  return (
    <article class="page alarm-page">
      <header class={`alarm-head alarm-${alarm.priority}`}>
        <PriorityGlyph priority={alarm.priority} size={64} />
        <div>
          <p class="alarm-urgency">
            <b>{say.alarm.priority[alarm.priority]}</b>{' '}
            <span>{say.alarm.raised(moment(alarm.raisedAtMs))}</span>{' '}
            <span>
              {alarm.clearedAtMs === null
                ? say.alarm.state[alarm.state]
                : say.alarm.cleared(moment(alarm.clearedAtMs))}
            </span>
          </p>
          <h1>
            <Behind class="behind-plain behind-all" ask={why}>
              {what.head}
            </Behind>
          </h1>
        </div>
      </header>
      {what.rest !== '' && (
        <p class="alarm-more">
          <Behind ask={why}>{what.rest}</Behind>
        </p>
      )}
      <Deeds alarm={alarm} moment={moment} />
      <div class="two alarm-deeds">
        <section class="sheet">
          <h2>{say.alarm.doNow}</h2>
          <ol class="do-list">
            {words.doNow.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ol>
        </section>
        {words.doNot.length > 0 && (
          <section class="sheet">
            <h2>{say.alarm.doNot}</h2>
            <ul class="not-list">
              {words.doNot.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </section>
        )}
      </div>
      {words.caution !== '' && (
        <section class="caution">
          <h2>{say.alarm.caution}</h2>
          <p>{words.caution}</p>
        </section>
      )}
      <div class="two">
        {words.confirm.length > 0 && (
          <section class="sheet">
            <h2>{say.alarm.confirm}</h2>
            <ul class="check-list">
              {words.confirm.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </section>
        )}
        <section class="sheet">
          <h2>{say.alarm.howSure}</h2>
          <p>
            <Behind ask={why}>{words.howSure}</Behind>
          </p>
          {words.timeLeft !== '' && (
            <>
              <h2>{say.alarm.timeLeft}</h2>
              <Behind ask={() => ({ kind: 'told', answer: timeLeftAnswer(alarm, moment(alarm.raisedAtMs)) })}>
                {words.timeLeft}
              </Behind>
            </>
          )}
          <h2>{say.alarm.ringsAgain}</h2>
          <p>
            <Behind ask={why}>{alarm.ringsAgain}</Behind>
          </p>
        </section>
      </div>
      {now.value !== null && <AlarmEvidence alarm={alarm} now={now.value} reader={local} />}
      {alarm.changes.length > 0 && (
        <section class="sheet">
          <h2>{say.alarm.life}</h2>
          <ul class="list">
            {alarm.changes.map((change) => (
              <li key={`${change.atMs}-${change.to}`}>
                <span>{moment(change.atMs)}</span>
                <b>
                  {change.from === change.to
                    ? say.alarm.escalated
                    : change.because === 'goes-on'
                      ? say.alarm.goesOn
                      : (say.alarm.changeWords[change.to] ?? change.to)}
                </b>
                {change.by !== undefined && <span class="soft">{say.alarm.by(change.by)}</span>}
              </li>
            ))}
          </ul>
        </section>
      )}
      <ToldOfAlarm alarmId={alarm.id} />
      <Back />
    </article>
  )
}

function Deeds({ alarm, moment }: Readonly<{ alarm: AlarmView; moment: (atMs: number) => string }>) {
  const [note, setNote] = useState('')
  const isActing = acting.value.includes(alarm.id)
  const isKeeper = may('keep-house')
  return (
    <div class="stack alarm-acts">
      {alarm.state === 'shelved' && alarm.shelvedUntilMs !== null && (
        <p class="lead">{say.alarm.shelvedUntil(moment(alarm.shelvedUntilMs))}</p>
      )}
      {alarm.state === 'latched-acknowledged' && isKeeper && (
        <Field label={say.alarm.resetNote} value={note} onInput={setNote} />
      )}
      <div class="row">
        {isUnacknowledged(alarm) && may('acknowledge') && (
          <button
            type="button"
            class="button button-main button-large"
            disabled={isActing}
            onClick={() => void actOnAlarm(alarm, 'acknowledge')}
          >
            {say.alarm.acknowledge}
          </button>
        )}
        {isKeeper && (alarm.state === 'unacknowledged' || alarm.state === 'acknowledged') && (
          <button
            type="button"
            class="button"
            disabled={isActing}
            onClick={() => void actOnAlarm(alarm, 'shelve', { minutes: 60 })}
          >
            {say.alarm.shelve}
          </button>
        )}
        {isKeeper && alarm.state === 'shelved' && (
          <button
            type="button"
            class="button"
            disabled={isActing}
            onClick={() => void actOnAlarm(alarm, 'unshelve')}
          >
            {say.alarm.unshelve}
          </button>
        )}
        {isKeeper && alarm.state === 'latched-acknowledged' && (
          <button
            type="button"
            class="button"
            disabled={isActing}
            onClick={() => void actOnAlarm(alarm, 'reset', note.trim() === '' ? {} : { note: note.trim() })}
          >
            {say.alarm.reset}
          </button>
        )}
      </div>
    </div>
  )
}
