import { z } from 'zod'

const isoWithOffset = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,9})?)?(Z|[+-]\d{2}:\d{2})$/

/**
 * A moment as others send it: UTC milliseconds, or ISO 8601 with an offset. Answers UTC milliseconds.
 * A text without offset is refused: an hour's doubt about a water test is a wrong toxicity.
 */
export const timeOf = z
  .union([z.number(), z.string()])
  .transform((given, context) => {
    const atMs = typeof given === 'number' ? given : momentOf(given)
    if (atMs !== null && Number.isSafeInteger(Math.round(atMs)) && atMs >= 0 && atMs < 4_102_444_800_000)
      return Math.round(atMs)
    context.addIssue({
      code: 'custom',
      message: 'give UTC milliseconds, or ISO 8601 with an offset such as 2026-11-25T07:30:00+01:00'
    })
    return z.NEVER
  })
  .meta({ description: 'UTC milliseconds, or ISO 8601 with offset' })

/** A text of the query string: digits are milliseconds, all else must be ISO 8601 with offset. */
export const timeInQuery = z
  .string()
  .transform((text) => (/^\d{1,16}$/.test(text) ? Number(text) : text))
  .pipe(timeOf)

/** UTC milliseconds of an ISO 8601 text with offset; null where it is none or names no real day. */
export function momentOf(text: string): number | null {
  if (!isoWithOffset.test(text)) return null
  const atMs = Date.parse(text)
  if (Number.isNaN(atMs)) return null
  // Date.parse rolls 31 February over to March: a day that does not exist is a slip of the pen.
  const day = Number(text.slice(8, 10))
  if (day >= 1 && day <= 28) return atMs
  const daysInMonth = new Date(Date.UTC(Number(text.slice(0, 4)), Number(text.slice(5, 7)), 0)).getUTCDate()
  return day >= 1 && day <= daysInMonth ? atMs : null
}
