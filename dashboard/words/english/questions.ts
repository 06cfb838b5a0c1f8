import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { nitrogenQuestionWords } from './nitrogen-questions.ts'
import type { QuestionWords } from './question-words.ts'
import { waterQuestionWords } from './water-questions.ts'

/** What every calculator says to a keeper. */
export const questionWords: Readonly<Record<CalculatorName, QuestionWords>> = {
  ...nitrogenQuestionWords,
  ...waterQuestionWords
}
