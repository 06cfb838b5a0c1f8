import { goodPoints } from '../../chart/night-facts.ts'
import type { Span } from '../../chart/night-span.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { spanWords } from '../../words/moments.ts'
import { newsPerHour } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { digitsOf, showTemperatureStep } from '../../words/units.ts'
import type { NightLane } from '../night/night-paint.ts'

const words = behind.story

/** From what the account of a stretch of time is told. */
export function storyAnswer(
  given: Readonly<{ lanes: readonly NightLane[]; span: Span; value: string; reader: Reader }>
): ToldAnswer {
  const { lanes, span } = given
  const step = showTemperatureStep(newsPerHour.temperature, given.reader)
  const from = lanes.flatMap((lane) => {
    const name = say.wall.lane[lane.lane]
    const heard = lane.lane === 'nitrite' ? [] : goodPoints(lane.points, span)
    const tests = lane.tests.filter(({ x }) => x <= span.toMs).length
    return [
      ...(heard.length > 0
        ? [answer.overTime.from(name, heard.length, spanWords(Math.max(lane.stepMs, 1000)))]
        : []),
      ...(tests > 0 ? [behind.sentence.lane(name, answer.overTime.typed(tests))] : [])
    ]
  })
  return {
    title: words.title,
    value: given.value,
    fromWhat: [...(from.length === 0 ? [answer.overTime.nothing] : from), words.days],
    howSure: [answer.doubts.pH.live, answer.doubts.typed],
    workedOut: [words.how(`${step.digits} ${step.unit}`, digitsOf(newsPerHour.ph, 1, given.reader))],
    source: words.source,
    links: [[answer.links.wall, addressOf('now')]]
  }
}
