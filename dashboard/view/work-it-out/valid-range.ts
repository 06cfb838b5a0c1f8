import { numberFormat } from '../../words/formats.ts'
import { isTurning, type OwnUnits, shownOf, unitOf } from '../../words/measures.ts'
import { isNumber } from './draft.ts'
import type { NumberField, Question } from './question.ts'

/** One part of the words in which the house tells where a formula holds: "tempC 0 to 50 degC". */
export type RangePart = Readonly<{ field: string; low: number; high: number; unit: string }>

/** Takes the ranges of a formula apart; a part of another shape is left out. */
export function parseRanges(validRange: string): readonly RangePart[] {
  return validRange.split(' · ').flatMap((part) => {
    const [, field, low, high, unit] = /^(\S+) (-?[\d.e+-]+) to (-?[\d.e+-]+) (.+)$/.exec(part) ?? []
    if (field === undefined || unit === undefined) return []
    return [{ field, low: Number(low), high: Number(high), unit }]
  })
}

/** The field a range or a refusal speaks of; `pH` means that of each of two waters. */
export const fieldFor = (question: Question, name: string): NumberField | undefined =>
  question.fields.filter(isNumber).find((field) => field.name === name) ??
  question.fields.filter(isNumber).find((field) => field.name.endsWith(`.${name}`))

/** From where to where, in the reader's own units: "32.0 to 122.0 °F". */
export function rangeDigits(
  field: NumberField | undefined,
  range: Readonly<{ low: number; high: number; unit: string }>,
  units: OwnUnits,
  locale: string
): Readonly<{ low: string; high: string; unit: string }> {
  const isOwn = field !== undefined && (isTurning(field.measure) || field.measure === 'share')
  const measure = isOwn ? field.measure : { unit: ownUnit(range.unit) }
  const short = (inside: number): string =>
    numberFormat(locale, { maximumFractionDigits: 3 }).format(shownOf(measure, inside, units))
  return {
    low: short(range.low),
    high: short(range.high),
    unit: unitOf(measure, units)
  }
}

/** The house writes units in plain letters. */
const ownUnit = (unit: string): string => (unit === 'pH' ? '' : unit.replace('degC', '°C'))
