import { nitrateFromN } from '../../../services/water/conversions.ts'
import { reader } from '../../state/house.ts'
import { work } from '../../words/english/work-it-out.ts'
import { type OwnUnits, shownOf, unitOf } from '../../words/measures.ts'
import { digitsOf, unitWords } from '../../words/units.ts'

const mostRows = 14
const series = ['tan', 'nitrite', 'nitrate'] as const

/** The course of a dose as a table, at evenly spaced days. */
export function DayByDay({
  answer,
  units
}: Readonly<{ answer: Readonly<Record<string, unknown>>; units: OwnUnits }>) {
  const numbers = series.map((name) => listOf(answer[name]))
  const days = numbers[0]?.length ?? 0
  const step = Math.max(1, Math.ceil((days - 1) / (mostRows - 1)))
  const rows = Array.from({ length: days }, (_, day) => day).filter((day) => day % step === 0)
  const nitrateBasis = units.nitrite === 'NO2' ? 'NO3' : 'N'
  const columns = {
    tan: { unit: unitOf('ammonia', units), shown: (mgL: number) => shownOf('ammonia', mgL, units) },
    nitrite: { unit: unitOf('nitrite', units), shown: (mgL: number) => shownOf('nitrite', mgL, units) },
    nitrate: {
      unit: unitWords('mg/L', nitrateBasis),
      shown: (nitrateMgLAsN: number) => nitrateFromN({ nitrateMgLAsN, basis: nitrateBasis })
    }
  }
  return (
    <details>
      <summary>{work.byDays}</summary>
      <table class="work-table">
        <thead>
          <tr>
            <th scope="col">{work.day}</th>
            {series.map((name) => (
              <th scope="col" key={name}>
                {work.series[name]}, {columns[name].unit}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((day) => (
            <tr key={day}>
              <th scope="row">{day}</th>
              {series.map((name, index) => (
                <td key={name}>
                  {digitsOf(columns[name].shown(numbers[index]?.[day] ?? 0), 2, reader.value)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

const listOf = (value: unknown): readonly number[] =>
  Array.isArray(value) ? value.filter((one) => typeof one === 'number') : []
