import type { LaneName } from '../../chart/lane-facts.ts'
import { goodPoints } from '../../chart/night-facts.ts'
import type { Span } from '../../chart/night-span.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { spanWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { showTemperatureStep } from '../../words/units.ts'
import type { NightLane } from '../night/night-paint.ts'

const words = answer.overTime

/** From what a lane of a stretch of time is told. */
export function overTimeAnswer(
  given: Readonly<{ lane: NightLane; whole: Span; value: string; isMoment: boolean; reader: Reader }>
): ToldAnswer {
  const { lane, whole } = given
  const name = say.wall.lane[lane.lane]
  const within = lane.points.filter(({ atMs }) => atMs >= whole.fromMs && atMs <= whole.toMs)
  const heard = lane.lane === 'nitrite' ? [] : goodPoints(within, whole)
  const tests = lane.tests.filter(({ x }) => x <= whole.toMs).length
  const flagged = (flag: number): number => within.filter((point) => point.flag === flag).length
  const [doubtful, wrong] = [flagged(3), flagged(4)]
  return {
    title: name,
    value: given.value,
    fromWhat: [
      ...(heard.length > 0 ? [words.from(name, heard.length, spanWords(Math.max(lane.stepMs, 1000)))] : []),
      ...(tests > 0 ? [words.typed(tests)] : []),
      ...(heard.length === 0 && tests === 0 ? [words.nothing] : [])
    ],
    howSure: [
      ...(heard.length > 0 ? sureOf(lane.lane, given.reader) : [answer.doubts.typed]),
      ...(doubtful > 0 ? [words.doubtful(doubtful)] : []),
      ...(wrong > 0 ? [words.wrong(wrong)] : [])
    ],
    workedOut: [
      lane.lane === 'nh3'
        ? words.computed
        : heard.length === 0
          ? words.tests
          : given.isMoment
            ? words.moment
            : words.ends
    ],
    source: words.sources[lane.lane],
    links: [
      ...(heard.length > 0 && lane.lane !== 'nh3' && may('amend')
        ? ([[answer.links.probe, addressOf('probes')]] as const)
        : []),
      ...(lane.lane === 'nh3'
        ? ([[answer.links.work, addressOf('work-it-out', undefined, 'unionised-ammonia')]] as const)
        : []),
      ...(may('test') ? ([[answer.links.tests, addressOf('tests')]] as const) : [])
    ]
  }
}

function sureOf(lane: LaneName, reader: Reader): readonly string[] {
  if (lane === 'nh3') return [answer.doubts.kit, answer.doubts.pH.live]
  if (lane === 'ph') return [answer.doubts.pH.live]
  const { digits, unit } = showTemperatureStep(0.5, reader)
  return [answer.doubts.tempC.live(`${digits} ${unit}`)]
}
