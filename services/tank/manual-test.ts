import type { TestQuantity } from './quantity.ts'

export type Basis = 'N' | 'NH3' | 'NH4' | 'NO2' | 'NO3'

/** One line of a water test, as the keeper typed it. */
export type TestResult = Readonly<{
  quantity: TestQuantity
  value: number
  /** mg/L, ug/L, mmol/L, dKH, dGH, ppm CaCO3, pH, Cel or degF. */
  unit: string
  /** In what nitrogen is reported; kept with each result. */
  basis?: Basis | undefined
  /** The kit's highest step was reached: the truth is this or more. */
  atLeast?: boolean | undefined
  /** Below the kit's first step: the truth is this or less. */
  atMost?: boolean | undefined
  /** The sample was diluted so many times before testing; `value` is what the kit showed. */
  dilutedTimes?: number | undefined
}>

export type ManualTest = Readonly<{
  id: string
  takenAtMs: number
  results: readonly TestResult[]
  note?: string | undefined
  amended?: boolean | undefined
  /** When it was written down, where that was long after its time. */
  enteredAtMs?: number | undefined
}>
