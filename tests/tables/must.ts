import type { Answer } from '../../services/water/valid-range.ts'

/** The value of an answer that must hold; a refusal breaks the test with its own words. */
export function must<T>(answer: Answer<T>): T {
  if (answer.ok) return answer.value
  const { field, value, low, high, unit } = answer.outOfRange
  throw new Error(`refused: ${field} ${value} outside ${low} to ${high} ${unit}`)
}

/** The field a refusal names, or null where there is an answer. */
export function refusedField<T>(answer: Answer<T>): string | null {
  return answer.ok ? null : answer.outOfRange.field
}
