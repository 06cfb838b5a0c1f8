import type { NowView } from '../../../services/contract/now-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { momentWords, spanWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'

const words = behind.next
const watched = ['ammonia', 'nitrite'] as const

/** Why this is the next thing to do, and why then. */
export function nextAnswer(state: NowView, nowMs: number, reader: Reader): ToldAnswer {
  const { next, tests } = state
  const isTest = next.step === 'test-ammonia-nitrite'
  return {
    title: words.title,
    value: next.words,
    fromWhat: [
      words.stage(say.wall.stage[state.stage]),
      ...(isTest
        ? watched.map((name) => {
            const test = tests[name]
            const called = say.tests.quantity[name]
            return test === undefined
              ? words.untested(called)
              : words.tested(called, momentWords(test.atMs, nowMs, reader))
          })
        : [])
    ],
    howSure: [words.sure],
    workedOut: isTest ? rhythm(state) : [words.steps],
    source: behind.noSource,
    links: [
      ...(may('test') ? ([[answer.links.tests, addressOf('tests', state.tankId)]] as const) : []),
      ...(may('event') ? ([[say.frame.screens.upkeep, addressOf('upkeep', state.tankId)]] as const) : [])
    ]
  }
}

/** The rhythm as the house took it: from the older of the two tests to the moment that is due. */
function rhythm({ next, tests }: NowView): readonly string[] {
  const last = watched.map((name) => tests[name]?.atMs)
  const known = last.filter((atMs) => atMs !== undefined)
  const everyMs = next.dueAtMs === null ? 0 : next.dueAtMs - Math.min(...known)
  if (known.length < last.length || everyMs < 3_600_000) return [words.now]
  return [words.every(spanWords(everyMs)), words.half]
}
