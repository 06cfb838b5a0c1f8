import { rowsOf } from '../../chart/night-facts.ts'
import type { Span } from '../../chart/night-span.ts'
import { night } from '../../words/english/night.ts'
import { showLaneValue } from '../../words/lane-words.ts'
import { momentIn } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import type { NightLane } from './night-paint.ts'

const rows = 24

/** The numbers behind one chart, for whoever reads rather than looks. */
export function NightTable(given: Readonly<{ lane: NightLane; span: Span; reader: Reader }>) {
  const { lane, span, reader } = given
  const name = say.wall.lane[lane.lane]
  const facts = {
    lane: lane.lane,
    source: 'probe',
    basis: lane.lane === 'nitrite' ? lane.basis : null
  } as const
  const isTyped = lane.lane === 'nitrite' || (lane.points.length === 0 && lane.tests.length > 0)
  const digits = (value: number | null): string =>
    value === null ? '–' : showLaneValue(facts, value, reader).digits
  const { unit } = showLaneValue(facts, 0, reader)
  const lines = isTyped
    ? lane.tests
        .filter(({ x }) => x >= span.fromMs)
        .map(({ x, y }) => ({ atMs: x, mean: y, min: y, max: y, flag: 0 }))
    : rowsOf(lane.points, span, rows)
  return (
    <details class="night-table">
      <summary>{night.table(name)}</summary>
      {lines.length === 0 ? (
        <p>{night.notHeard}</p>
      ) : (
        <table>
          <caption class="for-ears">{night.tableOf(name, unit)}</caption>
          <thead>
            <tr>
              <th scope="col">{night.columns.time}</th>
              <th scope="col">
                {night.columns.mean} {unit}
              </th>
              <th scope="col">{night.columns.min}</th>
              <th scope="col">{night.columns.max}</th>
              <th scope="col">{night.columns.remark}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((row) => (
              <tr key={row.atMs}>
                <th scope="row">{momentIn(row.atMs, span, reader)}</th>
                <td>{digits(row.mean)}</td>
                <td>{digits(row.min)}</td>
                <td>{digits(row.max)}</td>
                <td>{isTyped ? night.tested : remarkOf(row.mean, row.flag)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </details>
  )
}

function remarkOf(mean: number | null, flag: number): string {
  if (flag === 4) return night.takenForWrong
  if (mean === null) return night.notHeard
  return flag === 3 ? night.doubted : ''
}
