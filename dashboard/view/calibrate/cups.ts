import { type BufferName, bufferNames, bufferPH } from '../../../services/water/buffers.ts'
import {
  type CalibrationPoint,
  type Electrode,
  electrodeRanges,
  fitElectrode,
  nernstSlope
} from '../../../services/water/electrode.ts'

/** What the electrode said in one buffer: bare millivolts, or the pH that its board shows. */
export type Said = Readonly<{ millivolts: number }> | Readonly<{ shownPH: number }>
export type Cup = Readonly<{ buffer: BufferName; tempC: number; said: Said }>
export type BufferTable = 'technical' | 'nist'
export const bufferTables: readonly BufferTable[] = ['technical', 'nist']

/** The buffers of one table, the middle one first: there the electrode has its zero. */
export function buffersOf(table: BufferTable): readonly BufferName[] {
  const away = (name: BufferName): number => Math.abs(Number(printedOn(name)) - 7)
  return bufferNames.filter((name) => name.startsWith(`${table}-`)).toSorted((a, b) => away(a) - away(b))
}

/** What is printed on the bottle: its pH at 25 °C. */
export const printedOn = (buffer: BufferName): string => buffer.slice(buffer.indexOf('-') + 1)

/** What the electrode has found so far, by the same line that the house will draw; null where there is none. */
export function electrodeOf(cups: readonly Cup[]): Electrode | null {
  const points = pointsOf(cups)
  if (points.length < cups.length) return null
  const fit = fitElectrode(points)
  return fit.ok ? fit.value : null
}

/** The cups as points of the line; one outside the range of its buffer is none. */
export const pointsOf = (cups: readonly Cup[]): readonly (CalibrationPoint & Pick<Cup, 'buffer'>)[] =>
  cups.flatMap(({ buffer, tempC, said }) => {
    const pH = bufferPH({ buffer, tempC })
    const slope = nernstSlope(tempC)
    if (!pH.ok || !slope.ok) return []
    const millivolts = 'millivolts' in said ? said.millivolts : (7 - said.shownPH) * slope.value
    return [{ buffer, pH: pH.value, tempC, millivolts }]
  })

/** A bare glass electrode never gives so much: the board sends what its amplifier makes of it. */
export const isAmplified = (cups: readonly Cup[]): boolean =>
  cups.some(({ said }) => 'millivolts' in said && Math.abs(said.millivolts) > electrodeRanges.millivolts.high)
