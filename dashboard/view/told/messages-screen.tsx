import '../../style/told.css'
import { useEffect } from 'preact/hooks'
import { may, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { loadMessages, loadPeople, messages, people } from '../../state/told.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { MessageFates } from './message-fates.tsx'
import { wayName } from './people.tsx'

const beatMs = 10_000

/** Every message with what became of it. */
export function MessagesScreen() {
  const beat = Math.floor(nowMs.value / beatMs)
  useEffect(() => {
    void loadMessages()
    if (may('keep-house')) void loadPeople()
  }, [beat])
  const list = messages.value
  return (
    <div class="page">
      <h1>{say.messages.title}</h1>
      <p class="lead">{say.messages.lead}</p>
      <Resting />
      {list === null && <p>{say.told.asking}</p>}
      {list?.length === 0 && <p>{say.messages.none}</p>}
      {list !== null && list.length > 0 && <MessageFates list={list} />}
      {may('keep-house') && (
        <p>
          <a class="button" href={addressOf('told')}>
            {say.told.title}
          </a>
        </p>
      )}
    </div>
  )
}

/** Ways that failed so often that they are left alone for a while. */
function Resting() {
  const resting = (people.value ?? [])
    .flatMap(({ ways }) => ways)
    .filter(({ trouble }) => (trouble?.nextTryMs ?? 0) > nowMs.value)
  if (resting.length === 0) return null
  return (
    <section class="sheet">
      <h2>{say.messages.resting}</h2>
      <ul class="list">
        {resting.map((way) => (
          <li key={way.id}>
            <span class="grow">
              {say.messages.restingWhat(
                wayName(way),
                momentWords(way.trouble?.nextTryMs ?? 0, nowMs.value, reader.value)
              )}
            </span>
            <span>{way.trouble?.words}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
