import { z } from 'zod'
import { testQuantities } from '../tank/quantity.ts'
import { timeOf } from './time-of.ts'

const unit = z.enum(['mg/L', 'ug/L', 'mmol/L', 'dKH', 'dGH', 'ppm CaCO3', 'pH', 'Cel', 'degF'])
const unitsByQuantity: Readonly<Record<(typeof testQuantities)[number], readonly z.infer<typeof unit>[]>> = {
  ammonia: ['mg/L', 'ug/L', 'mmol/L'],
  nitrite: ['mg/L', 'ug/L', 'mmol/L'],
  nitrate: ['mg/L', 'ug/L', 'mmol/L'],
  ph: ['pH'],
  kh: ['dKH', 'ppm CaCO3', 'mmol/L'],
  gh: ['dGH', 'ppm CaCO3', 'mmol/L'],
  phosphate: ['mg/L', 'ug/L', 'mmol/L'],
  chlorine: ['mg/L', 'ug/L'],
  chloride: ['mg/L', 'mmol/L'],
  temperature: ['Cel', 'degF'],
  oxygen: ['mg/L']
}
const basesByQuantity: Readonly<Record<string, readonly string[]>> = {
  ammonia: ['N', 'NH3', 'NH4'],
  nitrite: ['N', 'NO2'],
  nitrate: ['N', 'NO3']
}

/** One line of a water test. A number only: an empty field is not a zero. */
export const testResult = z
  .strictObject({
    quantity: z.enum(testQuantities),
    value: z.number().min(-5).max(100_000),
    unit,
    basis: z.enum(['N', 'NH3', 'NH4', 'NO2', 'NO3']).optional(),
    atLeast: z.boolean().optional(),
    atMost: z.boolean().optional(),
    dilutedTimes: z.number().min(1).max(100).optional()
  })
  .superRefine((result, context) => {
    const fault = faultOf(result)
    if (fault !== null) context.addIssue({ code: 'custom', ...fault })
  })

function faultOf(result: {
  quantity: (typeof testQuantities)[number]
  value: number
  unit: z.infer<typeof unit>
  basis?: string | undefined
  atLeast?: boolean | undefined
  atMost?: boolean | undefined
}): { path: string[]; message: string } | null {
  const units = unitsByQuantity[result.quantity]
  if (!units.includes(result.unit))
    return { path: ['unit'], message: `${result.quantity} is given in ${units.join(', ')}` }
  const bases = basesByQuantity[result.quantity]
  if (result.basis !== undefined && !(bases ?? []).includes(result.basis))
    return {
      path: ['basis'],
      message: bases ? `the basis is ${bases.join(', ')}` : 'this quantity has no basis'
    }
  if (result.atLeast === true && result.atMost === true)
    return { path: ['atLeast'], message: 'a result is either at least or at most so much, not both' }
  if (result.quantity === 'ph' && (result.value < 0 || result.value > 14))
    return { path: ['value'], message: 'pH lies between 0 and 14' }
  if (result.quantity !== 'temperature' && result.value < 0)
    return { path: ['value'], message: 'a concentration is never below zero' }
  return null
}

export const newTest = z.strictObject({
  takenAt: timeOf,
  results: z.array(testResult).min(1).max(20),
  note: z.string().max(2000).optional(),
  clientKey: z.string().min(1).max(100).optional()
})
export type NewTestBody = z.input<typeof newTest>
export const changedTest = newTest.omit({ clientKey: true }).partial()
export const testView = z.object({
  id: z.string(),
  takenAtMs: z.number(),
  results: z.array(
    z.object({
      quantity: z.enum(testQuantities),
      value: z.number(),
      unit: z.string(),
      basis: z.string().optional(),
      atLeast: z.boolean().optional(),
      atMost: z.boolean().optional(),
      dilutedTimes: z.number().optional()
    })
  ),
  note: z.string().optional(),
  amended: z.boolean().optional()
})
export type TestView = z.infer<typeof testView>
