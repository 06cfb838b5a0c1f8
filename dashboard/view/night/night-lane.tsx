import { laneStory, pointNear } from '../../chart/night-facts.ts'
import type { Span } from '../../chart/night-span.ts'
import { night } from '../../words/english/night.ts'
import { dayAndTime } from '../../words/moments.ts'
import { momentIn, rangeIn, valueIn } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { overTimeAnswer } from '../answer/over-time-answer.ts'
import { Behind } from '../behind.tsx'
import type { NightLane } from './night-paint.ts'
import { NightRun } from './night-run.tsx'
import { NightTable } from './night-table.tsx'
import type { Scrub } from './scrub.ts'

/** What a lane says at a moment, or over the whole stretch where none is chosen. */
export function readoutOf(lane: NightLane, cursorMs: number | null, span: Span, reader: Reader): string {
  const value = (one: number): string => valueIn(lane.lane, one, reader, lane.basis)
  if (cursorMs === null) return wholeOf(lane, span, reader)
  const test = lane.tests.findLast(({ x }) => x <= cursorMs)
  const tested =
    test === undefined
      ? null
      : night.testedAt(
          value(test.y),
          test.x < span.fromMs ? dayAndTime(test.x, reader) : momentIn(test.x, span, reader)
        )
  if (lane.lane === 'nitrite') return tested ?? night.unknown
  const point = pointNear(lane.points, cursorMs, lane.stepMs)
  if (point === null) return tested ?? (lane.lane === 'nh3' ? night.unknown : night.notHeard)
  if (point.mean === null) return night.takenForWrong
  if (lane.lane !== 'nh3') {
    const said = value(point.mean)
    return point.flag === 3 ? `${said}, ${night.doubted}` : said
  }
  const [low, high] = [value(point.min ?? point.mean), value(point.max ?? point.mean)]
  return low === high
    ? night.about(value(point.mean))
    : night.withDoubt(night.about(value(point.mean)), low, high)
}

function wholeOf(lane: NightLane, span: Span, reader: Reader): string {
  const range = (low: number, high: number): string => rangeIn(lane.lane, { low, high }, reader, lane.basis)
  const { lowest, highest } = laneStory({ ...lane, span })
  const typed = lane.tests.filter(({ x }) => x >= span.fromMs).map(({ y }) => y)
  if (typed.length > 0 && (lowest === null || highest === null)) {
    return `${range(Math.min(...typed), Math.max(...typed))}, ${night.tested}`
  }
  if (lowest === null || highest === null)
    return lane.lane === 'nh3' || lane.lane === 'nitrite' ? night.unknown : night.notHeard
  return range(lowest.value, highest.value)
}

/** One lane with its name, what it says at the chosen moment, its chart and the numbers behind it. */
export function NightLaneFigure(
  given: Readonly<{
    lane: NightLane
    whole: Span
    view: Span
    hourMarks: readonly number[]
    spells: readonly Span[]
    marks: readonly Readonly<{ atMs: number; isAlarm: boolean }>[]
    cursorMs: number | null
    scrub: Scrub
    reader: Reader
    /** The rows of the table are those of the whole stretch. */
    table: NightLane
  }>
) {
  const { lane, whole, cursorMs, reader } = given
  const name = say.wall.lane[lane.lane]
  const readout = readoutOf(lane, cursorMs, whole, reader)
  const sentence = `${name}: ${wholeOf(given.table, whole, reader)}.`
  return (
    <figure class="night-lane" data-lane={lane.lane}>
      <figcaption>
        <h3>{name}</h3>
        <Behind
          ask={() => ({
            kind: 'told',
            answer: overTimeAnswer({
              lane: given.table,
              whole,
              value: readout,
              isMoment: cursorMs !== null,
              reader
            })
          })}
        >
          <span class="night-readout">{readout}</span>
        </Behind>
      </figcaption>
      <NightRun
        {...{ lane, whole, cursorMs, reader }}
        label={sentence}
        view={given.view}
        hourMarks={given.hourMarks}
        spells={given.spells}
        marks={given.marks}
        scrub={given.scrub}
      />
      <NightTable lane={given.table} span={whole} reader={reader} />
    </figure>
  )
}
