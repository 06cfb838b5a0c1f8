import '../../style/told.css'
import { useEffect, useState } from 'preact/hooks'
import type { MessageView } from '../../../services/contract/alert-view.ts'
import { may } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { messagesAbout } from '../../state/told.ts'
import { say } from '../../words/say.ts'
import { MessageFates } from './message-fates.tsx'

const beatMs = 15_000

/** Who was told of an alarm, and what became of each message. */
export function ToldOfAlarm({ alarmId }: Readonly<{ alarmId: string }>) {
  const [list, setList] = useState<readonly MessageView[] | null>(null)
  const beat = Math.floor(nowMs.value / beatMs)
  const isAllowed = may('see-messages')
  useEffect(() => {
    if (!isAllowed) return
    let isGone = false
    void messagesAbout(alarmId).then((found) => {
      if (!isGone && found !== null) setList(found)
    })
    return () => {
      isGone = true
    }
  }, [alarmId, beat, isAllowed])
  if (list === null) return null
  return (
    <section class="sheet">
      <h2>{say.messages.ofAlarm}</h2>
      {list.length === 0 ? <p>{say.messages.ofAlarmNobody}</p> : <MessageFates list={list} />}
    </section>
  )
}
