import { useEffect } from 'preact/hooks'
import type { EventView } from '../../../services/contract/event-entry.ts'
import { ownEntries, waitingEntries, withdrawEntry } from '../../state/entries.ts'
import { eventList, loadEvents } from '../../state/entry-list.ts'
import { may, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { tank } from '../../state/route.ts'
import { entriesRevision } from '../../state/watch.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { eventWords } from './event-draft.ts'
import { NightLink } from './night-link.tsx'

/** What was written down before, newest first; each can be changed or taken back. */
export function DiaryHistory(given: Readonly<{ tankId: string; onAmend: (event: EventView) => void }>) {
  const { tankId: id, onAmend } = given
  useEffect(() => void loadEvents(id), [id, ownEntries.value, entriesRevision.value])
  const events = eventList.value
  const waiting = waitingEntries.value.filter((parcel) => parcel.path.endsWith(`/${id}/events`))
  const local = { ...reader.value, timeZone: tank.value?.profile.timeZone }
  return (
    <section class="sheet entry-before">
      <h2>{say.entry.history}</h2>
      {events !== null && events.length === 0 && waiting.length === 0 && (
        <p class="soft">{say.diary.emptyHistory}</p>
      )}
      <ul class="list">
        {waiting.map((parcel) => (
          <li key={parcel.clientKey}>
            <span class="grow">{parcel.label}</span>
            <b>{say.entry.waiting}</b>
          </li>
        ))}
        {(events ?? []).map((event) => {
          const words = eventWords(event.kind, event.data, local)
          return (
            <li key={event.id}>
              <span class="grow">
                {words}
                <br />
                <span class="soft">
                  {momentWords(event.atMs, nowMs.value, local)}
                  {event.amended === true ? `, ${say.entry.amended}` : ''}
                  {event.note === undefined || event.note === '' ? '' : ` · ${event.note}`}
                </span>
              </span>
              {event.kind === 'fish-added' && <NightLink atMs={event.atMs} words={words} reader={local} />}
              {may('amend') && (
                <>
                  <button
                    type="button"
                    class="button button-quiet"
                    aria-label={`${say.entry.amend}: ${words}`}
                    onClick={() => onAmend(event)}
                  >
                    {say.entry.amend}
                  </button>
                  <button
                    type="button"
                    class="button button-quiet"
                    aria-label={`${say.entry.takeBack}: ${words}`}
                    onClick={() => void withdrawEntry({ tankId: id, kind: 'events', label: words }, event.id)}
                  >
                    {say.entry.takeBack}
                  </button>
                </>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
