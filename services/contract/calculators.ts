import { ammoniaCalculators } from './calculate-ammonia.ts'
import { carbonateCalculators } from './calculate-carbonate.ts'
import { changeCalculators } from './calculate-changes.ts'
import { nitriteCalculators } from './calculate-nitrite.ts'
import { probeCalculators } from './calculate-probes.ts'
import type { Calculator } from './calculator.ts'

/** Every formula that others may ask, by the name it is asked under. */
export const calculators = {
  ...ammoniaCalculators,
  ...nitriteCalculators,
  ...carbonateCalculators,
  ...probeCalculators,
  ...changeCalculators
} as const satisfies Record<string, Calculator>

export type CalculatorName = keyof typeof calculators
export const calculatorNames = Object.keys(calculators) as readonly CalculatorName[]
