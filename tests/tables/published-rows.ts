import { readFileSync } from 'node:fs'

/** One published, remembered or derived value with its source, as kept in vectors/published-values.json. */
export type PublishedRow = Readonly<{
  id: string
  /** check: must come out; trap: must not. */
  kind: 'check' | 'trap'
  quantity: string
  inputs: Readonly<Record<string, number>>
  expected: number | readonly number[]
  unit: string
  tolerance: string
  tol_abs?: number
  tol_rel?: number
  tol_sigfig?: number
  source: string
  /** quoted: read in a reprint or table; memory: recalled; derived: computed from the formula, checks arithmetic only. */
  status: 'quoted' | 'memory' | 'derived'
}>

export const publishedRows: readonly PublishedRow[] = JSON.parse(
  readFileSync(new URL('./vectors/published-values.json', import.meta.url), 'utf8')
)

export const listed = (value: number | readonly number[]): readonly number[] =>
  typeof value === 'number' ? [value] : value
