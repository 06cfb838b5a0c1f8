import { type Answer, known, onward } from './valid-range.ts'

/** A number with the span in which the truth lies. */
export type Span = Readonly<{ value: number; low: number; high: number }>

/**
 * Makes a span from a reading and its error; `floor` keeps a concentration from going below nothing.
 * Units: those of the value; the error in the same unit.
 * Valid: error 0 or more; floor not above the value.
 * Source: definition of an interval (R. E. Moore, 1966, Interval Analysis; from memory).
 * Exact to: double precision.
 */
export function plusMinus({ value, error, floor }: { value: number; error: number; floor?: number }): Span {
  const low = value - error
  return { value, low: floor !== undefined && low < floor ? floor : low, high: value + error }
}

/**
 * Carries errors through a formula with one answer.
 * Units: those the formula asks and answers.
 * Valid: as `spreadEach`.
 * Source: as `spreadEach`.
 * Exact to: as `spreadEach`.
 */
export function spread<Field extends string>(
  inputs: Readonly<Record<Field, Span>>,
  formula: (given: Record<Field, number>) => Answer<number>
): Answer<Span> {
  const answer = spreadEach(inputs, (given) => onward(formula(given), (value) => ({ value })))
  return onward(answer, (spans) => spans.value as Span)
}

/**
 * Carries errors through a formula with several answers: evaluates it at the middle and at every corner of the box the
 * errors span, and takes the lowest and highest of each. One refused corner refuses the whole: the formula does not
 * hold there. An answer that is no number at some corner gets no span.
 * Units: those the formula asks and answers.
 * Valid: exact where the formula rises or falls steadily in each input taken alone, which the tests show for
 *   every formula it is used with; at most ten uncertain inputs.
 * Source: interval arithmetic by vertices (Dong & Shah 1987, Vertex method for computing functions of fuzzy
 *   variables, Fuzzy Sets and Systems 24:65-78; from memory).
 * Exact to: double precision for such formulas.
 */
export function spreadEach<Field extends string>(
  inputs: Readonly<Record<Field, Span>>,
  formula: (given: Record<Field, number>) => Answer<Readonly<Record<string, unknown>>>
): Answer<Readonly<Record<string, Span>>> {
  const fields = Object.keys(inputs) as Field[]
  const middle = formula(pick(inputs, fields, () => 'value'))
  if (!middle.ok) return middle
  let spans = Object.entries(middle.value).flatMap(([name, value]) =>
    typeof value === 'number' ? [[name, { value, low: value, high: value }] as const] : []
  )
  for (let corner = 0; corner < 2 ** fields.length; corner += 1) {
    const there = formula(pick(inputs, fields, (index) => (corner & (1 << index) ? 'high' : 'low')))
    if (!there.ok) return there
    spans = spans.flatMap(([name, span]) => {
      const value = there.value[name]
      return typeof value === 'number' ? [[name, wider(span, value)] as const] : []
    })
  }
  return known(Object.fromEntries(spans))
}

function wider(span: Span, value: number): Span {
  return { value: span.value, low: Math.min(span.low, value), high: Math.max(span.high, value) }
}

function pick<Field extends string>(
  inputs: Readonly<Record<Field, Span>>,
  fields: readonly Field[],
  which: (index: number) => keyof Span
): Record<Field, number> {
  const given: Partial<Record<Field, number>> = {}
  for (const [index, field] of fields.entries()) given[field] = inputs[field][which(index)]
  return given as Record<Field, number>
}
