import { useEffect } from 'preact/hooks'
import { laneFacts, laneFromMs, laneNames } from '../../chart/lane-facts.ts'
import { setAsideAlarms, standingAlarms } from '../../state/alarms.ts'
import { may, role, tanks } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { otherTanks } from '../../state/other-tanks.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf, tank, tankId } from '../../state/route.ts'
import { keepAwake } from '../../state/wake.ts'
import { now, tracks } from '../../state/watch.ts'
import { quarterDays, timeOfDay } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { AlarmStrip } from './alarm-strip.tsx'
import { EmptyHouse } from './empty-house.tsx'
import { Lane } from './lane.tsx'
import { NextStep } from './next-step.tsx'
import { NoticeStrip } from './notice-strip.tsx'
import { OtherTanks } from './other-tanks.tsx'
import { Sentence } from './sentence.tsx'
import { SoundState } from './sound-state.tsx'
import { ToldState } from './told-state.tsx'

/** So many rows of alarms and notices leave the lanes legible. */
const stripsShown = 2

/** The wall view: one sentence, alarms, what is said without ringing, the lanes, the next step. */
export function NowScreen() {
  useEffect(keepAwake, [])
  if (tanks.value.length === 0) return <EmptyHouse />
  const state = now.value
  const local = localReader()
  const alarms = standingAlarms.value
  const setAside = setAsideAlarms.value.filter((alarm) => alarm.state === 'shelved').length
  const rest = alarms.length - stripsShown
  const notices = state?.notices ?? []
  const hasOthers = otherTanks.value.length > 0
  // Beside an alarm and the row of other tanks a note makes way, and stands in that row.
  const roomForNotices = stripsShown - alarms.length - (alarms.length > 0 && hasOthers ? 1 : 0)
  const shown = notices.slice(0, Math.max(0, roomForNotices))
  const more = [
    rest > 0 ? say.alarm.andMore(rest) : '',
    setAside > 0 ? say.wall.setAside(setAside) : '',
    notices.length > shown.length ? say.wall.moreNotices(notices.length - shown.length) : ''
  ].filter((part) => part !== '')
  const rows = alarms.length + shown.length + (hasOthers ? 1 : 0)
  const isCrowded = rows > stripsShown || (rows === stripsShown && more.length > 0)
  const hourMarks = quarterDays(laneFromMs(nowMs.value), nowMs.value, local)
  return (
    <div
      class={['wall', rows > 0 && 'wall-alarm', rows > 1 && 'wall-alarms', isCrowded && 'wall-crowded']
        .filter(Boolean)
        .join(' ')}
      style={driftOf(nowMs.value)}
    >
      <header class="wall-top">
        <Sentence state={state} reader={local} />
        <div class="wall-side">
          <p class="wall-clock">{timeOfDay(nowMs.value, local)}</p>
          <p class="wall-tank">{tank.value?.profile.name ?? ''}</p>
          <SoundState />
          <ToldState />
        </div>
      </header>
      {state !== null && (
        <>
          {alarms.length + shown.length > 0 && (
            <div class="strips">
              {alarms.slice(0, stripsShown).map((alarm, index) => (
                <AlarmStrip key={alarm.id} alarm={alarm} isSlim={index > 0} />
              ))}
              {shown.map((notice) => (
                <NoticeStrip key={notice.notice} notice={notice} />
              ))}
            </div>
          )}
          <div class="asides">
            {more.length > 0 && (
              <a class="strips-more" href={addressOf('alarms')}>
                {more.join(', ')}
              </a>
            )}
            <OtherTanks />
          </div>
          <section class="lanes" aria-label={say.wall.lanesLabel}>
            {laneNames.map((lane) => (
              <Lane
                key={`${tankId.value}/${lane}`}
                lane={lane}
                now={state}
                track={tracks.value[lane]}
                nowMs={nowMs.value}
                hourMarks={hourMarks}
                reader={local}
              />
            ))}
            {laneNames.some((lane) => laneFacts(lane, state, nowMs.value).source !== 'none') && (
              <TimeRule reader={local} hourMarks={hourMarks} nowMs={nowMs.value} />
            )}
          </section>
          <NextStep state={state} reader={local} canTest={may('test')} canWork={may('wall-event')} />
        </>
      )}
      {role.value === null && <p>{say.frame.loading}</p>}
    </div>
  )
}

/** Moves the whole wall by a pixel or two each few minutes, so that nothing burns into the panel. */
function driftOf(atMs: number): Readonly<{ transform: string }> {
  const step = Math.floor(atMs / 180_000) % 8
  const path = [0, 1, 2, 2, 2, 1, 0, 0]
  return { transform: `translate(${path[step] ?? 0}px, ${path[(step + 6) % 8] ?? 0}px)` }
}

/** One ruler of time for all lanes. */
function TimeRule(given: Readonly<{ reader: Reader; hourMarks: readonly number[]; nowMs: number }>) {
  const dayMs = 86_400_000
  const fromMs = given.nowMs - dayMs
  return (
    <div class="time-rule" aria-hidden="true">
      <div class="time-marks">
        {given.hourMarks.map((atMs) => {
          const frac = (atMs - fromMs) / dayMs
          return (
            <span
              key={atMs}
              class="time-mark"
              style={{ left: `calc((100% - 14px) * ${frac})`, '--room': `calc(100cqw * ${1 - frac})` }}
            >
              {timeOfDay(atMs, given.reader)}
            </span>
          )
        })}
        <span class="time-now">{say.wall.nowWord}</span>
      </div>
    </div>
  )
}
