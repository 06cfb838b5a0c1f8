import { nowMs } from '../../state/pulse.ts'
import { answer } from '../../words/english/answer.ts'
import { agoWords } from '../../words/moments.ts'
import type { AnswerGiven } from './answer-given.ts'

/** A number that somebody typed in. */
export function TestAnswer({ facts, words }: AnswerGiven) {
  if (words.value === null || facts.atMs === null) return null
  const value = [words.before, words.value.digits, words.value.unit].filter((part) => part !== '').join(' ')
  return (
    <>
      <section class="sheet">
        <h3>{answer.fromWhat}</h3>
        <p>{answer.typed(value, agoWords(nowMs.value - facts.atMs))}</p>
      </section>
      <section class="sheet">
        <h3>{answer.howSure}</h3>
        <p>{answer.doubts.typed}</p>
      </section>
      <section class="sheet">
        <h3>{answer.workedOut}</h3>
        <p>{answer.asTyped}</p>
        <p>{answer.holdsKit}</p>
        <p class="soft">{answer.source(answer.kitSource)}</p>
      </section>
    </>
  )
}
