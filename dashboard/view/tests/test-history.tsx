import { useEffect } from 'preact/hooks'
import type { TestView } from '../../../services/contract/test-entry.ts'
import { ownEntries, waitingEntries, withdrawEntry } from '../../state/entries.ts'
import { loadTests, testList } from '../../state/entry-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { entriesRevision } from '../../state/watch.ts'
import { momentWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { testWords } from './draft.ts'

/** What was typed in before, newest first; each can be changed or taken back. */
export function TestHistory(
  given: Readonly<{ tankId: string; reader: Reader; mayAmend: boolean; onAmend: (test: TestView) => void }>
) {
  const { tankId, reader } = given
  useEffect(() => void loadTests(tankId), [tankId, ownEntries.value, entriesRevision.value])
  const waiting = waitingEntries.value.filter((parcel) => parcel.path.endsWith(`/${tankId}/tests`))
  const tests = testList.value
  return (
    <section class="sheet entry-before">
      <h2>{say.entry.history}</h2>
      {tests !== null && tests.length === 0 && waiting.length === 0 && (
        <p class="soft">{say.tests.emptyHistory}</p>
      )}
      <ul class="list">
        {waiting.map((parcel) => (
          <li key={parcel.clientKey}>
            <span class="grow">{parcel.label}</span>
            <b>{say.entry.waiting}</b>
          </li>
        ))}
        {(tests ?? []).map((test) => {
          const words = testWords(test.results, reader)
          return (
            <li key={test.id}>
              <span class="grow">
                {words}
                <br />
                <span class="soft">
                  {momentWords(test.takenAtMs, nowMs.value, reader)}
                  {test.amended === true ? `, ${say.entry.amended}` : ''}
                </span>
                {test.note !== undefined && <span class="soft"> {test.note}</span>}
              </span>
              {given.mayAmend && (
                <>
                  <button
                    type="button"
                    class="button button-quiet"
                    aria-label={`${say.entry.amend}: ${words}`}
                    onClick={() => given.onAmend(test)}
                  >
                    {say.entry.amend}
                  </button>
                  <button
                    type="button"
                    class="button button-quiet"
                    aria-label={`${say.entry.takeBack}: ${words}`}
                    onClick={() => void withdrawEntry({ tankId, kind: 'tests', label: words }, test.id)}
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
