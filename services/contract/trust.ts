import { trustFigures } from './trust-figures.ts'

/** How far a quantity lies from one source at worst. */
export type TrustLine = Readonly<{
  about: string
  source: string
  /** quoted: read in a reprint or table; memory: recalled; derived: the same formula computed apart from our code
   * (checks arithmetic, not nature); independent: another program with its own constants or method. */
  status: 'quoted' | 'memory' | 'derived' | 'independent'
  checks: number
  worst: number
  /** relative: a share of the value; absolute: in the unit. */
  measure: 'relative' | 'absolute'
  unit: string
}>

/** "How far to trust the numbers", line by line. */
export const trust: readonly TrustLine[] = trustFigures
  .trim()
  .split('\n')
  .map((line) => {
    const [about = '', source = '', status = '', checks = '', worst = '', measure = '', unit = ''] = line
      .split('|')
      .map((cell) => cell.trim())
    return {
      about,
      source,
      status: status as TrustLine['status'],
      checks: Number(checks),
      worst: Number(worst),
      measure: measure as TrustLine['measure'],
      unit
    }
  })
