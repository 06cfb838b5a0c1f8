import type { ComponentChildren } from 'preact'
import type { Asked } from '../state/answer.ts'
import { waitingEntries, withdrawEntry } from '../state/entries.ts'
import { say } from '../words/say.ts'
import { Behind } from './behind.tsx'

/** One entry as its list shows it. */
export type PastEntry = Readonly<{
  id: string
  words: string
  /** What stands behind its numbers. */
  ask?: () => Asked
  /** When it was, and whether it was changed since. */
  soft: string
  note?: string | undefined
  /** What else can be done with it. */
  more?: ComponentChildren
  onAmend: () => void
}>

/** What was written down before, newest first: those still waiting to be sent, then the rest, to change or take back. */
export function EntryHistory(
  given: Readonly<{
    tankId: string
    kind: 'tests' | 'events'
    /** Null until they have come. */
    entries: readonly PastEntry[] | null
    empty: string
    mayAmend: boolean
  }>
) {
  const { tankId, kind, entries } = given
  const waiting = waitingEntries.value.filter((parcel) => parcel.path.endsWith(`/${tankId}/${kind}`))
  return (
    <section class="sheet entry-before">
      <h2>{say.entry.history}</h2>
      {entries !== null && entries.length === 0 && waiting.length === 0 && <p class="soft">{given.empty}</p>}
      <ul class="list">
        {waiting.map((parcel) => (
          <li key={parcel.clientKey}>
            <span class="grow">{parcel.label}</span>
            <b>{say.entry.waiting}</b>
          </li>
        ))}
        {(entries ?? []).map(({ id, words, ask, soft, note, more, onAmend }) => (
          <li key={id}>
            <span class="grow">
              {ask === undefined ? words : <Behind ask={ask}>{words}</Behind>}
              <br />
              <span class="soft">
                {soft}
                {note === undefined || note === '' ? '' : ` · ${note}`}
              </span>
            </span>
            {(given.mayAmend || Boolean(more)) && (
              <span class="entry-deeds">
                {more}
                {given.mayAmend && (
                  <>
                    <button
                      type="button"
                      class="button button-quiet"
                      aria-label={`${say.entry.amend}: ${words}`}
                      onClick={onAmend}
                    >
                      {say.entry.amend}
                    </button>
                    <button
                      type="button"
                      class="button button-quiet"
                      aria-label={`${say.entry.takeBack}: ${words}`}
                      onClick={() => void withdrawEntry({ tankId, kind, label: words }, id)}
                    >
                      {say.entry.takeBack}
                    </button>
                  </>
                )}
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** "today 18:40, changed later" where it was. */
export const whenWords = (moment: string, isAmended: boolean): string =>
  isAmended ? `${moment}, ${say.entry.amended}` : moment
