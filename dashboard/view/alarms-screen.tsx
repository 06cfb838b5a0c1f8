import { useEffect } from 'preact/hooks'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { alarmList, loadAlarms, loadNoise, noise } from '../state/alarm-list.ts'
import { standingAlarms } from '../state/alarms.ts'
import { localReader } from '../state/local-reader.ts'
import { nowMs } from '../state/pulse.ts'
import { addressOf, tankId } from '../state/route.ts'
import { now } from '../state/watch.ts'
import { behind } from '../words/english/behind.ts'
import { momentWords } from '../words/moments.ts'
import { say } from '../words/say.ts'
import { headOf } from '../words/sentences.ts'
import { noiseAnswer } from './answer/noise-answer.ts'
import { Behind } from './behind.tsx'
import { PriorityGlyph } from './glyph.tsx'
import { AlarmStrip } from './wall/alarm-strip.tsx'
import { NoticeStrip } from './wall/notice-strip.tsx'

/** Alarms that stand, what is said without ringing, and alarms that are over. */
export function AlarmsScreen() {
  const alarms = now.value?.alarms
  const states = alarms?.map((alarm) => alarm.state).join()
  useEffect(() => void loadAlarms(), [tankId.value, states])
  useEffect(() => void loadNoise(nowMs.value), [tankId.value, states])
  const standing = standingAlarms.value
  const notices = now.value?.notices ?? []
  const others = (alarmList.value ?? []).filter((alarm) => !standing.some((one) => one.id === alarm.id))
  return (
    <div class="page">
      <h1>{say.alarm.title}</h1>
      <section class="stack" aria-label={say.alarm.standing}>
        {standing.length === 0 ? (
          <p class="lead">{say.alarm.none}</p>
        ) : (
          standing.map((alarm) => <AlarmStrip key={alarm.id} alarm={alarm} />)
        )}
      </section>
      {notices.length > 0 && (
        <section class="stack" aria-label={say.wall.notices}>
          {notices.map((notice) => (
            <NoticeStrip key={notice.notice} notice={notice} />
          ))}
        </section>
      )}
      <section class="sheet">
        <h2>{say.alarm.past}</h2>
        {others.length === 0 ? (
          <p class="soft">{say.alarm.nonePast}</p>
        ) : (
          <ul class="list">
            {others.map((alarm) => (
              <Past key={alarm.id} alarm={alarm} />
            ))}
          </ul>
        )}
      </section>
      <Noisy />
    </div>
  )
}

/** How often this tank rings, and by what that is known. */
function Noisy() {
  const told = noise.value
  if (told === null) return null
  return (
    <section class="sheet told-whole">
      <h2>{behind.noise.title}</h2>
      <p>
        <Behind
          class="behind behind-all"
          ask={() => ({ kind: 'told', answer: noiseAnswer(told.view, told.knownDays) })}
        >
          {told.view.words}
        </Behind>
      </p>
      <p class="soft">{behind.noise.rang(told.view.alarms, told.view.days)}</p>
    </section>
  )
}

function Past({ alarm }: Readonly<{ alarm: AlarmView }>) {
  const local = localReader()
  return (
    <li>
      <PriorityGlyph priority={alarm.priority} size={22} />
      <a class="grow tall-link past-alarm" href={addressOf('alarm', alarm.tankId, alarm.id)}>
        {headOf(alarm.words.what, 0).head}
      </a>
      <span class="soft">{momentWords(alarm.raisedAtMs, nowMs.value, local)}</span>
      <span>{say.alarm.state[alarm.state]}</span>
    </li>
  )
}
