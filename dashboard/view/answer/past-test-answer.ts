import type { TestView } from '../../../services/contract/test-entry.ts'
import { ammoniaAsN, nitriteAsN } from '../../../services/water/conversions.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { shortDigitsOf } from '../../words/units.ts'
import { resultWords } from '../tests/draft.ts'

const words = answer.test
type Result = TestView['results'][number]

/** What stands behind a test in the list: when, how sure a kit is, and what was reckoned from it. */
export function pastTestAnswer(
  given: Readonly<{
    test: Pick<TestView, 'results' | 'amended' | 'note'>
    value: string
    moment: string
    reader: Reader
  }>
): ToldAnswer {
  const { test, reader } = given
  const turned = test.results.flatMap((result) => {
    const asN = asNitrogen(result)
    return asN === null ? [] : [words.asN(resultWords(result, reader), shortDigitsOf(asN, 3, reader))]
  })
  return {
    title: say.tests.title,
    value: given.value,
    fromWhat: [
      words.typed(given.moment),
      ...(test.amended === true ? [words.amended] : []),
      ...(test.note === undefined || test.note === '' ? [] : [test.note])
    ],
    howSure: [answer.doubts.typed],
    workedOut: [answer.asTyped, ...turned],
    source: turned.length === 0 ? answer.kitSource : words.weights,
    links: [[answer.links.work, addressOf('work-it-out')]]
  }
}

function asNitrogen({ quantity, value, unit, basis }: Result): number | null {
  if (unit !== 'mg/L') return null
  if (quantity === 'ammonia' && (basis === 'NH3' || basis === 'NH4'))
    return ammoniaAsN({ ammoniaMgL: value, basis })
  if (quantity === 'nitrite' && basis === 'NO2') return nitriteAsN({ nitriteMgL: value, basis })
  return null
}
