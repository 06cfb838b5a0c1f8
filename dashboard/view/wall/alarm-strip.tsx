import type { AlarmView } from '../../../services/contract/alarm-view.ts'
import { acting, actOnAlarm, isUnacknowledged } from '../../state/alarms.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { say } from '../../words/say.ts'
import { headOf } from '../../words/sentences.ts'
import { PriorityGlyph } from '../glyph.tsx'

/** An alarm across the whole wall: what is wrong, what to do first, and one touch to say "seen". */
export function AlarmStrip({ alarm, isSlim = false }: Readonly<{ alarm: AlarmView; isSlim?: boolean }>) {
  const isNew = isUnacknowledged(alarm)
  const first = alarm.words.doNow[0]
  const address = addressOf('alarm', alarm.tankId, alarm.id)
  return (
    <article
      class={`strip strip-${alarm.priority} ${isNew ? 'strip-new' : 'strip-seen'} ${isSlim ? 'strip-slim' : ''}`}
    >
      <a class="strip-link" href={address}>
        <PriorityGlyph priority={alarm.priority} size={isNew && !isSlim ? 48 : 28} />
        <span class="strip-words">
          <span class="strip-what">
            <b class="strip-priority">
              {isNew ? say.alarm.priority[alarm.priority] : say.alarm.acknowledged}
            </b>
            <span class="strip-fact">{headOf(alarm.words.what, 0).head}</span>
          </span>
          {isNew && !isSlim && first !== undefined && <span class="strip-do">{first}</span>}
        </span>
      </a>
      {isNew && may('acknowledge') && (
        <button
          type="button"
          class="button strip-seen-button"
          disabled={acting.value.includes(alarm.id)}
          onClick={() => void actOnAlarm(alarm, 'acknowledge')}
        >
          {say.alarm.acknowledge}
        </button>
      )}
    </article>
  )
}
