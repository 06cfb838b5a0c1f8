import { type Answer, firstOutside, known } from './valid-range.ts'

const nbs =
  'NBS/NIST pH standards, Bates 1962 and Hetzer et al. 1977 series, read as a lookup table in a public firmware header'
const bottle =
  'common technical buffers, table of an industrial instrument manual (MI 611-211, 2005, Table 7)'
type Row = readonly [tempC: number, pH: number]
type Table = Readonly<{ source: string; rows: readonly Row[] }>

const at = (temps: readonly number[], values: readonly number[]): Row[] =>
  values.map((pH, i) => [temps[i] as number, pH])
const nbsC = [0, 5, 10, 15, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 35, 37, 40, 45, 50]
const bottleC = [0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50]

/** The certified pH of each buffer by temperature; nist- and technical- buffers of like numbers are different solutions. */
export const bufferTables = {
  'nist-4.01': {
    source: nbs,
    rows: at(
      nbsC,
      [
        4.0, 3.998, 3.997, 3.998, 3.999, 4.0, 4.001, 4.001, 4.002, 4.003, 4.004, 4.005, 4.006, 4.007, 4.008,
        4.009, 4.011, 4.018, 4.022, 4.027, 4.038, 4.05
      ]
    )
  },
  'nist-6.86': {
    source: nbs,
    rows: at(
      nbsC,
      [
        6.984, 6.951, 6.923, 6.9, 6.888, 6.884, 6.881, 6.877, 6.874, 6.871, 6.868, 6.865, 6.862, 6.86, 6.857,
        6.855, 6.853, 6.844, 6.841, 6.838, 6.834, 6.833
      ]
    )
  },
  'nist-9.18': {
    source: nbs,
    rows: at(
      nbsC,
      [
        9.464, 9.395, 9.332, 9.276, 9.245, 9.235, 9.225, 9.216, 9.207, 9.197, 9.189, 9.18, 9.171, 9.163,
        9.155, 9.147, 9.139, 9.102, 9.088, 9.068, 9.038, 9.01
      ]
    )
  },
  'nist-10.01': {
    source: nbs,
    rows: at(
      nbsC,
      [
        10.317, 10.245, 10.179, 10.118, 10.084, 10.073, 10.062, 10.052, 10.042, 10.032, 10.022, 10.012,
        10.002, 9.993, 9.984, 9.975, 9.966, 9.925, 9.91, 9.889, 9.857, 9.828
      ]
    )
  },
  'technical-4.00': {
    source: bottle,
    rows: at(bottleC, [4.0, 4.0, 4.0, 4.0, 4.0, 4.0, 4.01, 4.02, 4.03, 4.04, 4.06])
  },
  'technical-7.00': {
    source: bottle,
    rows: at(bottleC, [7.12, 7.09, 7.06, 7.04, 7.02, 7.0, 6.99, 6.99, 6.98, 6.98, 6.97])
  },
  'technical-10.01': {
    source: bottle,
    rows: at(bottleC, [10.32, 10.25, 10.18, 10.12, 10.06, 10.01, 9.97, 9.93, 9.89, 9.86, 9.83])
  }
} as const satisfies Record<string, Table>

export type BufferName = keyof typeof bufferTables
export const bufferNames = Object.keys(bufferTables) as [BufferName, ...BufferName[]]
export const bufferTempRange = (buffer: BufferName) =>
  ({ low: 0, high: 50, unit: 'degC', source: bufferTables[buffer].source }) as const

/**
 * The pH of a buffer at the temperature it has, read off its table along the line between two entries.
 * Units: degC -> pH.
 * Valid: 0 to 50 degC.
 * Source: NBS/NIST standards (Bates 1962, J. Res. NBS 66A:179; Staples & Bates 1969, J. Res. NBS 73A:37; Hetzer et al.
 *   1977) and common technical buffers, both as reprinted in public files.
 * Exact to: the table itself at its entries (0.002 for nist-, 0.01 for technical-); between them 0.002 and 0.01.
 */
export function bufferPH({ buffer, tempC }: { buffer: BufferName; tempC: number }): Answer<number> {
  const outside = firstOutside({ tempC }, { tempC: bufferTempRange(buffer) })
  return outside ?? known(readOff(bufferTables[buffer].rows, tempC))
}

/** The table reaches to both ends of the range, so there is always an entry on either side; entries are met exactly. */
function readOff(rows: readonly Row[], tempC: number): number {
  const above = Math.max(
    1,
    rows.findIndex(([entryC]) => entryC >= tempC)
  )
  const [t0, pH0] = rows[above - 1] as Row
  const [t1, pH1] = rows[above] as Row
  return pH1 - ((t1 - tempC) / (t1 - t0)) * (pH1 - pH0)
}
