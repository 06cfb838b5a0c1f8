import type { StabilityView } from '../../../services/contract/probe-entry.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { spanWords } from '../../words/moments.ts'

const words = behind.settling

/** From how many readings it is known whether a probe stands still. */
export const settlingAnswer = (view: StabilityView, value: string): ToldAnswer => ({
  title: words.title,
  value,
  fromWhat: [words.from(view.count, spanWords(Math.max(view.overMs, 1000)))],
  howSure: [view.words, words.sure],
  workedOut: [words.how, view.reason],
  source: words.source,
  links: []
})
