import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { nitrogenQuestions } from './nitrogen-questions.ts'
import type { Question } from './question.ts'
import { waterQuestions } from './water-questions.ts'

export const questions: Readonly<Record<CalculatorName, Question>> = {
  ...nitrogenQuestions,
  ...waterQuestions
}

export const questionNamed = (name: string | null): CalculatorName | null =>
  name !== null && Object.hasOwn(questions, name) ? (name as CalculatorName) : null

/** In the order of a keeper's worries. */
export const groups = {
  ammonia: ['unionised-ammonia', 'feed-ammonia', 'ammonia-dose', 'ammonia-criteria'],
  nitrite: ['chloride-guard', 'batch-nitrification', 'nitrous-acid'],
  change: ['water-change', 'weekly-change', 'mix', 'dechlorinate'],
  air: ['co2', 'ph-at-air', 'oxygen-saturation'],
  warmth: ['cooling'],
  probe: ['electrode', 'buffer-ph']
} as const satisfies Readonly<Record<string, readonly CalculatorName[]>>
export type Group = keyof typeof groups
