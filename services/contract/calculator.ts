import { z } from 'zod'
import { HouseError } from '../errors.ts'
import { plusMinus, type Span, spreadEach } from '../water/uncertainty.ts'
import { type Answer, type OutOfRange, onward, type ValidRange } from '../water/valid-range.ts'

type Result = Readonly<Record<string, unknown>>

/** A formula as others ask it: what goes in, what comes out, and what a reader needs to judge it. */
export type Calculator = Readonly<{
  title: string
  formula: string
  source: string
  validRange: string
  cautions: readonly string[]
  /** A body that works, for the page and the description of the interface. */
  example: Result
  body: z.ZodType
  answer: z.ZodType
  /** Answers, or throws API_BAD_INPUT or WATER_OUT_OF_RANGE. */
  run: (body: unknown) => Result
}>

const span = z.object({ value: z.number(), low: z.number(), high: z.number() })
const errorsGiven = z
  .record(z.string(), z.number().min(0))
  .refine((errors) => Object.keys(errors).length <= 6, 'at most six errors at once')
  .optional()
  .describe('How far a number may be off, by field, e.g. {"pH": 0.2}; the answer then carries low and high')

/** One number of a body with its words for the reader. */
export const amount = (words: string) => z.number().describe(words)

export function makeCalculator<Body extends z.ZodRawShape, Out extends z.ZodRawShape>(given: {
  title: string
  formula: string
  source: string
  ranges: Readonly<Record<string, ValidRange>>
  cautions?: readonly string[]
  example: NoInfer<z.input<z.ZodObject<Body>>>
  /** False where carrying errors would take too long or would not be true. */
  carriesErrors?: false
  body: Body
  answer: Out
  /** What must hold between fields, in words if it does not. */
  together?: (body: NoInfer<z.output<z.ZodObject<Body>>>) => string | null
  compute: (body: NoInfer<z.output<z.ZodObject<Body>>>) => Answer<NoInfer<z.output<z.ZodObject<Out>>>>
}): Calculator {
  type In = z.output<z.ZodObject<Body>>
  const { title, formula, source, ranges, cautions = [], example, together, compute } = given
  const carried = given.carriesErrors === false ? {} : { plusMinus: errorsGiven }
  const body = z.strictObject({ ...given.body, ...carried }).superRefine((value, context) => {
    const fault = together?.(value as unknown as In) ?? null
    if (fault !== null) context.addIssue({ code: 'custom', message: fault })
  })
  const answer = z.object({ ...given.answer, spans: z.record(z.string(), span).optional() })
  const run = (raw: unknown): Result => {
    const { plusMinus: errors, ...asked } = parsed(body, raw) as Record<string, unknown> & {
      plusMinus?: Record<string, number>
    }
    const result = compute(asked as In)
    if (!result.ok) throw outOfRange(result.outOfRange)
    if (errors === undefined) return result.value as Result
    return { ...(result.value as Result), spans: spansOf(asked, errors, (there) => compute(there as In)) }
  }
  const validRange = rangeWords(ranges)
  return { title, formula, source, validRange, cautions, example: example as Result, body, answer, run }
}

function parsed(schema: z.ZodType, raw: unknown): unknown {
  const result = schema.safeParse(raw)
  if (result.success) return result.data
  const errors = result.error.issues.map((issue) => ({
    detail: issue.message,
    pointer: `#/${issue.path.join('/')}`
  }))
  throw badInput(errors)
}

function badInput(errors: readonly { detail: string; pointer: string }[]): HouseError {
  const words = errors.map(({ pointer, detail }) => `${pointer.slice(2) || 'the body'}: ${detail}`)
  return new HouseError('API_BAD_INPUT', `This cannot be worked out as it is: ${words.join('; ')}.`, {
    errors
  })
}

/** Out of range in words and as fields, so that a page can say it and a script can read it. */
function outOfRange(left: OutOfRange): HouseError {
  const { field, value, low, high, unit, source } = left
  return new HouseError(
    'WATER_OUT_OF_RANGE',
    `${field} is ${short(value)}, but this holds only from ${short(low)} to ${short(high)} ${unit} (${source}).`,
    { field, value, low, high, unit, source }
  )
}

/** Carries the errors given for fields through the calculator; concentrations and amounts do not go below zero. */
function spansOf(
  asked: Result,
  errors: Readonly<Record<string, number>>,
  compute: (there: Result) => Answer<unknown>
): Readonly<Record<string, Span>> {
  const inputs = Object.entries(errors).map(([field, error]) => {
    const value = numberAt(asked, field)
    if (value === null)
      throw badInput([
        { detail: 'there is no number of that name in the body', pointer: `#/plusMinus/${field}` }
      ])
    const mayBeNegative = /(C|pH|millivolts)$/.test(field) || value < 0
    return [field, plusMinus(mayBeNegative ? { value, error } : { value, error, floor: 0 })] as const
  })
  const spans = spreadEach(Object.fromEntries(inputs), (numbers) =>
    onward(compute(withNumbers(asked, numbers)), (result) => result as Result)
  )
  if (!spans.ok) throw outOfRange(spans.outOfRange)
  return spans.value
}

function numberAt(body: unknown, path: string): number | null {
  let here: unknown = body
  for (const step of path.split('.')) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return null
    here = (here as Record<string, unknown>)[step]
  }
  return typeof here === 'number' ? here : null
}

function withNumbers(body: Result, numbers: Readonly<Record<string, number>>): Result {
  const copy = structuredClone(body) as Record<string, unknown>
  for (const [path, value] of Object.entries(numbers)) {
    const steps = path.split('.')
    const last = steps.pop() as string
    let here = copy
    for (const step of steps) here = here[step] as Record<string, unknown>
    here[last] = value
  }
  return copy
}

/** A number short enough to read. */
function short(value: number): string {
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(4)))
}

function rangeWords(ranges: Readonly<Record<string, ValidRange>>): string {
  return Object.entries(ranges)
    .map(([field, { low, high, unit }]) => `${field} ${short(low)} to ${short(high)} ${unit}`)
    .join(' · ')
}

/** Gives a refusal of the inner formula the name and the measure of the outer field. */
export function refusedAs<T>(
  answer: Answer<T>,
  names: Readonly<Record<string, { field: string; times?: number; unit?: string }>>
): Answer<T> {
  if (answer.ok) return answer
  const left = answer.outOfRange
  const name = names[left.field]
  if (name === undefined) return answer
  const { field, times = 1, unit = left.unit } = name
  const { value, low, high, source } = left
  return {
    ok: false,
    outOfRange: { field, value: value * times, low: low * times, high: high * times, unit, source }
  }
}
