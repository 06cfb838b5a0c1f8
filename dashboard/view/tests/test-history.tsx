import { useEffect } from 'preact/hooks'
import type { TestView } from '../../../services/contract/test-entry.ts'
import { ownEntries } from '../../state/entries.ts'
import { loadTests, testList } from '../../state/entry-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { entriesRevision } from '../../state/watch.ts'
import { momentWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { pastTestAnswer } from '../answer/past-test-answer.ts'
import { EntryHistory, whenWords } from '../entry-history.tsx'
import { testWords } from './draft.ts'

/** The water tests that were typed in. */
export function TestHistory(
  given: Readonly<{ tankId: string; reader: Reader; mayAmend: boolean; onAmend: (test: TestView) => void }>
) {
  const { tankId, reader, onAmend } = given
  useEffect(() => void loadTests(tankId), [tankId, ownEntries.value, entriesRevision.value])
  const entries = testList.value?.map((test) => {
    const value = testWords(test.results, reader)
    const moment = momentWords(test.takenAtMs, nowMs.value, reader)
    return {
      id: test.id,
      words: value,
      ask: () => ({ kind: 'told', answer: pastTestAnswer({ test, value, moment, reader }) }) as const,
      soft: whenWords(moment, test.amended === true),
      note: test.note,
      onAmend: () => onAmend(test)
    }
  })
  return (
    <EntryHistory
      tankId={tankId}
      kind="tests"
      entries={entries ?? null}
      empty={say.tests.emptyHistory}
      mayAmend={given.mayAmend}
    />
  )
}
