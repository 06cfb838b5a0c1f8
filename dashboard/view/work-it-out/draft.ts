import {
  insideOf,
  isTurning,
  type Measure,
  type OwnUnits,
  plainDigits,
  shownOf,
  stepInside,
  stepShown,
  type Turning,
  typedOf
} from '../../words/measures.ts'
import { parseTyped } from '../form/typed-number.ts'
import type { Field, NumberField, Question } from './question.ts'

/** What stands in the fields, as typed; doubts only where the keeper changed them. */
export type Draft = Readonly<{
  texts: Readonly<Record<string, string>>
  choices: Readonly<Record<string, string>>
  doubts: Readonly<Record<string, string>>
}>

export type Asked =
  | Readonly<{ kind: 'ready'; body: Readonly<Record<string, unknown>> }>
  /** Fields that are still empty, and those whose text is no number. */
  | Readonly<{ kind: 'not-yet'; missing: readonly string[]; faulty: readonly string[] }>

/** The fresh form: empty, but for what the example of the formula gives where nobody could know it. */
export function startDraft(
  question: Question,
  example: Readonly<Record<string, unknown>>,
  units: OwnUnits
): Draft {
  const texts: Record<string, string> = {}
  const choices: Record<string, string> = {}
  for (const field of question.fields) {
    if (field.is === 'choice') choices[field.name] = field.start
    else if (field.fromExample === true) {
      const value = valueAt(example, field.name)
      if (typeof value === 'number')
        texts[field.name] = String(Number(shownOf(field.measure, value, units).toPrecision(3)))
    }
  }
  return { texts, choices, doubts: {} }
}

/** The fields there are with these choices. */
export const fieldsOf = (question: Question, draft: Draft): readonly Field[] =>
  question.fields.filter(({ when }) => when === undefined || draft.choices[when.field] === when.is)

export const isNumber = (field: Field): field is NumberField => field.is === 'number'

/** How far a number may be off, as it stands beside it; empty is not carried. */
export function doubtText(field: NumberField, draft: Draft, units: OwnUnits): string {
  const own = draft.doubts[field.name]
  if (own !== undefined) return own
  const value = parseTyped(draft.texts[field.name] ?? '')
  if (field.doubt === undefined || value === null) return ''
  const { frac, floor } = field.doubt
  const step = Math.max(floor, frac * Math.abs(insideOf(field.measure, value, units)))
  return plainDigits(Number(stepShown(field.measure, step, units).toPrecision(2)))
}

const mostDoubts = 6

/** What is asked of the house, in its units; or what is still missing. */
export function askedOf(question: Question, draft: Draft, units: OwnUnits, withDoubts = true): Asked {
  const missing: string[] = []
  const faulty: string[] = []
  const body: Record<string, unknown> = { ...question.constants }
  const plusMinus: Record<string, number> = {}
  for (const field of fieldsOf(question, draft)) {
    if (field.is === 'choice') {
      const choice = draft.choices[field.name] ?? field.start
      if (field.asks !== 'steer') put(body, field.name, field.asks === 'yes-no' ? choice === 'yes' : choice)
      continue
    }
    const text = (draft.texts[field.name] ?? '').trim()
    const value = parseTyped(text)
    if (text === '') {
      if (field.isOptional !== true) missing.push(field.name)
    } else if (value === null) faulty.push(field.name)
    else {
      put(body, field.name, insideOf(field.measure, value, units))
      const doubt = parseTyped(doubtText(field, draft, units))
      if (withDoubts && doubt !== null && doubt > 0 && Object.keys(plusMinus).length < mostDoubts)
        plusMinus[field.name] = stepInside(field.measure, doubt, units)
    }
  }
  if (missing.length > 0 || faulty.length > 0) return { kind: 'not-yet', missing, faulty }
  return { kind: 'ready', body: Object.keys(plusMinus).length === 0 ? body : { ...body, plusMinus } }
}

/** The same water in another unit: what was typed keeps its meaning. */
export function turned(
  question: Question,
  draft: Draft,
  turning: Turning,
  from: OwnUnits,
  to: OwnUnits
): Draft {
  const concerns = (measure: Measure): boolean => isTurning(measure) && measure === turning
  const texts = { ...draft.texts }
  const doubts = { ...draft.doubts }
  for (const field of question.fields) {
    if (field.is !== 'number' || !concerns(field.measure)) continue
    const value = parseTyped(texts[field.name] ?? '')
    if (value !== null) texts[field.name] = typedOf(field.measure, insideOf(field.measure, value, from), to)
    const doubt = parseTyped(doubts[field.name] ?? '')
    if (doubt !== null) {
      const step = stepInside(field.measure, doubt, from)
      doubts[field.name] = plainDigits(stepShown(field.measure, step, to))
    }
  }
  return { ...draft, texts, doubts }
}

/** Puts a value at its place; a step that is a number makes a list. */
function put(body: Record<string, unknown>, path: string, value: unknown): void {
  const steps = path.split('.')
  const last = steps.pop() ?? path
  let here: Record<string, unknown> = body
  for (const [index, step] of steps.entries()) {
    here[step] ??= /^\d+$/.test(steps[index + 1] ?? last) ? [] : {}
    here = here[step] as Record<string, unknown>
  }
  here[last] = value
}

export function valueAt(body: unknown, path: string): unknown {
  let here: unknown = body
  for (const step of path.split('.')) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined
    here = (here as Record<string, unknown>)[step]
  }
  return here
}
