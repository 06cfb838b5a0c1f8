import { useEffect } from 'preact/hooks'
import type { EventView } from '../../../services/contract/event-entry.ts'
import { ownEntries } from '../../state/entries.ts'
import { eventList, loadEvents } from '../../state/entry-list.ts'
import { may } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { entriesRevision } from '../../state/watch.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { EntryHistory, whenWords } from '../entry-history.tsx'
import { eventWords } from './event-draft.ts'
import { NightLink } from './night-link.tsx'

/** The events of the diary; from fish that came one touch leads to the night that followed. */
export function DiaryHistory(given: Readonly<{ tankId: string; onAmend: (event: EventView) => void }>) {
  const { tankId, onAmend } = given
  useEffect(() => void loadEvents(tankId), [tankId, ownEntries.value, entriesRevision.value])
  const local = localReader()
  const entries = eventList.value?.map((event) => {
    const words = eventWords(event.kind, event.data, local)
    return {
      id: event.id,
      words,
      soft: whenWords(momentWords(event.atMs, nowMs.value, local), event.amended === true),
      note: event.note,
      more: event.kind === 'fish-added' && <NightLink atMs={event.atMs} words={words} reader={local} />,
      onAmend: () => onAmend(event)
    }
  })
  return (
    <EntryHistory
      tankId={tankId}
      kind="events"
      entries={entries ?? null}
      empty={say.diary.emptyHistory}
      mayAmend={may('amend')}
    />
  )
}
