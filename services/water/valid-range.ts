/** From where to where a number may lie for a formula to hold, and who says so. */
export type ValidRange = Readonly<{ low: number; high: number; unit: string; source: string }>

/** Which number left which range. `low` and `high` are the ends that still hold. */
export type OutOfRange = Readonly<{ field: string; value: number } & ValidRange>

export type Refusal = Readonly<{ ok: false; outOfRange: OutOfRange }>

/** What every formula of this room answers: a value, or the range that was left. Never a clamped value, never NaN. */
export type Answer<T> = Readonly<{ ok: true; value: T }> | Refusal

/**
 * Wraps a value that was computed inside its valid range.
 * Units: those of the value.
 * Valid: any value.
 * Source: our own convention.
 * Exact to: the value itself.
 */
export function known<T>(value: T): Answer<T> {
  return { ok: true, value }
}

/**
 * Says that one number lies outside the range in which a formula holds.
 * Units: those of the range.
 * Valid: any number, also NaN and the infinities.
 * Source: the range brings its own.
 * Exact to: the ends belong to the range.
 */
export function refused(field: string, value: number, range: ValidRange): Refusal {
  const { low, high, unit, source } = range
  return { ok: false, outOfRange: { field, value, low, high, unit, source } }
}

/**
 * Finds the first number that leaves its range; NaN leaves every range, an absent number leaves none.
 * Units: those of each range.
 * Valid: any numbers.
 * Source: each range brings its own.
 * Exact to: the ends belong to the range.
 */
export function firstOutside<Field extends string>(
  given: Readonly<{ [F in NoInfer<Field>]?: number | undefined }>,
  ranges: Readonly<Record<Field, ValidRange>>
): Refusal | null {
  for (const field in ranges) {
    const value = given[field]
    const range = ranges[field]
    if (value !== undefined && !(value >= range.low && value <= range.high))
      return refused(field, value, range)
  }
  return null
}

/**
 * Goes on with a value, or hands the refusal through.
 * Units: those of the value.
 * Valid: any answer.
 * Source: our own convention.
 * Exact to: the step that follows.
 */
export function onward<T, U>(answer: Answer<T>, next: (value: T) => U): Answer<U> {
  return answer.ok ? known(next(answer.value)) : answer
}
