import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { dateWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import type { Channel } from '../probes/channel-state.ts'

const words = answer.drift
/** From here on the line answers, below it the filter. */
const enough = 6

/** From which comparisons it is known how far a probe is off, and how. */
export function driftAnswer(
  given: Readonly<{ drift: NonNullable<Channel['drift']>; probe: string; reader: Reader }>
): ToldAnswer {
  const { references, sinceMs, words: said } = given.drift
  return {
    title: words.title(given.probe),
    value: say.probes.driftWords(said),
    fromWhat: [references === 0 ? words.none : words.from(references, dateWords(sinceMs, given.reader))],
    howSure: [words.sure],
    workedOut: [references < enough ? words.few : words.many],
    source: words.source,
    links: [[answer.links.tests, addressOf('tests')]]
  }
}
