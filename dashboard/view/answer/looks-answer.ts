import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'

const words = behind.looks

/** Where a sentence about what may be wrong comes from. */
export const looksAnswer = (line: string): ToldAnswer => ({
  title: words.title,
  value: line,
  fromWhat: [words.from],
  howSure: [words.sure],
  workedOut: [words.how],
  source: words.source,
  links: [
    [answer.links.wall, addressOf('now')],
    [answer.links.night, addressOf('night')]
  ]
})
