import type { Calculated, Outside } from '../../state/calculators.ts'
import type { QuestionWords } from '../../words/english/question-words.ts'
import { work } from '../../words/english/work-it-out.ts'
import type { OwnUnits } from '../../words/measures.ts'
import type { Asked } from './draft.ts'
import type { Question } from './question.ts'
import { fieldFor, rangeDigits } from './valid-range.ts'

/** What is wrong, at its field; and what is wrong where no field is to blame. */
export type Faults = Readonly<{ fields: Readonly<Record<string, string>>; general: string | null }>

export function faultsOf(
  given: Readonly<{
    question: Question
    words: QuestionWords
    units: OwnUnits
    asked: Asked
    calculated: Calculated | null
    locale: string
  }>
): Faults {
  const { question, asked, calculated } = given
  if (asked.kind === 'not-yet')
    return { fields: Object.fromEntries(asked.faulty.map((name) => [name, work.noNumber])), general: null }
  if (calculated === null || calculated.kind === 'answered') return { fields: {}, general: null }
  if (calculated.kind === 'failed') return { fields: {}, general: calculated.words }
  if (calculated.kind === 'outside') {
    const { outside } = calculated
    const field = question.fields.find(({ name }) => name === outside.field)
    const words = outsideWords(outside, given)
    return field === undefined
      ? { fields: {}, general: words }
      : { fields: { [field.name]: words }, general: null }
  }
  const known = Object.entries(calculated.faults).filter(([name]) =>
    question.fields.some((field) => field.name === name)
  )
  return { fields: Object.fromEntries(known), general: known.length === 0 ? calculated.words : null }
}

function outsideWords(
  outside: Outside,
  {
    question,
    words,
    units,
    locale
  }: Readonly<{ question: Question; words: QuestionWords; units: OwnUnits; locale: string }>
): string {
  const field = fieldFor(question, outside.field)
  const name =
    field === undefined || field.name !== outside.field
      ? (work.elsewhere[outside.field] ?? words.labels[field?.name ?? ''] ?? outside.field)
      : (words.labels[field.name] ?? field.name)
  const { low, high, unit } = rangeDigits(field, outside, units, locale)
  const value = rangeDigits(
    field,
    { low: outside.value, high: outside.value, unit: outside.unit },
    units,
    locale
  ).low
  return `${work.outside(name, value, low, high, unit)} ${work.outsideSource(outside.source)}.`
}
