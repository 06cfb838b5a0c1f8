import type { MessageView } from '../../../services/contract/alert-view.ts'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { PriorityGlyph } from '../glyph.tsx'

/** Messages, newest first, each with everything that happened to it. */
export function MessageFates({ list }: Readonly<{ list: readonly MessageView[] }>) {
  return (
    <ul class="list">
      {list.map((message) => (
        <li key={message.id}>
          <PriorityGlyph priority={message.priority} size={22} />
          <div class="grow">
            <p>
              <About message={message} /> {say.messages.to(message.contactName ?? say.messages.goneContact)}
            </p>
            {message.fates.length > 0 && <Fates message={message} />}
          </div>
          <p>
            <b>{say.messages.states[message.state]}</b> <span class="soft">{whenWords(message)}</span>
          </p>
        </li>
      ))}
    </ul>
  )
}

const moment = (atMs: number): string => momentWords(atMs, nowMs.value, reader.value)

function About({ message }: Readonly<{ message: MessageView }>) {
  const { about, alarmId, tankId } = message
  if (alarmId === null || tankId === null) return <b>{about}</b>
  return (
    <a class="tall-link" href={addressOf('alarm', tankId, alarmId)}>
      {about}, {tankId}
    </a>
  )
}

function Fates({ message }: Readonly<{ message: MessageView }>) {
  return (
    <ul class="fates">
      {message.fates.map((fate) => (
        <li key={`${fate.atMs} ${fate.wayId} ${fate.what}`}>
          <span class="fate-time">{moment(fate.atMs)}</span>
          {fate.way !== null && <b>{fate.way}: </b>}
          {fate.words}
        </li>
      ))}
    </ul>
  )
}

function whenWords({ state, tries, dueAtMs, madeAtMs }: MessageView): string {
  const count = tries === 0 ? [] : [say.messages.tries(tries)]
  if (state !== 'waiting') return [moment(madeAtMs), ...count].join(', ')
  return [
    ...count,
    tries === 0 ? say.messages.due(moment(dueAtMs)) : say.messages.next(moment(dueAtMs))
  ].join(', ')
}
