import { signal } from '@preact/signals'
import type { Problem } from '../../services/contract/house-entry.ts'
import type { CalculatorView } from '../feed/house.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

export type Calculator = CalculatorView
/** Every formula the house answers, with source and range; null before it was asked for. */
export const calculatorList = signal<readonly Calculator[] | null>(null)

export async function loadCalculators(): Promise<string | null> {
  if (calculatorList.value !== null) return null
  const answer = await calls.calculators()
  if (answer.kind === 'done') calculatorList.value = answer.value
  return faultOf(answer)
}

/** Which number left which range. */
export type Outside = Readonly<{
  field: string
  value: number
  low: number
  high: number
  unit: string
  source: string
}>
export type Calculated =
  | Readonly<{ kind: 'answered'; answer: Readonly<Record<string, unknown>> }>
  | Readonly<{ kind: 'outside'; outside: Outside }>
  | Readonly<{ kind: 'bad'; faults: Readonly<Record<string, string>>; words: string }>
  | Readonly<{ kind: 'failed'; words: string }>

export async function calculate(name: string, body: Readonly<Record<string, unknown>>): Promise<Calculated> {
  const answer = await calls.calculate(name, body)
  if (answer.kind === 'done') return { kind: 'answered', answer: answer.value }
  const words = faultOf(answer) ?? ''
  if (answer.kind === 'away') return { kind: 'failed', words }
  const { problem } = answer
  if (isOutside(problem)) return { kind: 'outside', outside: problem }
  if (problem.errors === undefined) return { kind: 'failed', words }
  const faults = problem.errors.map(({ pointer, detail }) => [
    pointer.replace(/^#?\//, '').replaceAll('/', '.'),
    detail
  ])
  return { kind: 'bad', faults: Object.fromEntries(faults), words }
}

const isOutside = (problem: Problem): problem is Problem & Outside =>
  problem.code === 'WATER_OUT_OF_RANGE' && 'field' in problem && 'low' in problem && 'high' in problem
