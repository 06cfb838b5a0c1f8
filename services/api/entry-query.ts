import { z } from 'zod'
import { timeInQuery } from '../contract/time-of.ts'
import type { FieldFault } from './validation-words.ts'

/** A whole number in a query. Text is never forced into a number: an empty one would become zero. */
export const countInQuery = (most: number) =>
  z
    .string()
    .regex(/^\d{1,6}$/, `give a whole number from 1 to ${most}`)
    .transform(Number)
    .pipe(z.number().min(1, `give a whole number from 1 to ${most}`).max(most, `give at most ${most}`))

const mostEntries = 5000
export const entryQuery = z.object({
  from: timeInQuery.optional(),
  to: timeInQuery.optional(),
  limit: countInQuery(mostEntries).optional()
})
export const tankAndId = z.object({ tank: z.string(), id: z.string().max(100) })
export const made = z.object({ id: z.string() })
export const amendmentView = z.object({
  atMs: z.number(),
  by: z.string(),
  withdrawn: z.boolean(),
  /** What the entry said before. */
  before: z.record(z.string(), z.unknown())
})

/** Clocks of phones differ a little; more than this is a slip of the pen. */
const aheadMs = 5 * 60_000

/** An entry is about what has happened: the fault of one that lies in the future, else null. */
export function futureFault(atMs: number | undefined, nowMs: number, field: string): FieldFault | null {
  if (atMs === undefined || atMs <= nowMs + aheadMs) return null
  return { detail: 'this time lies in the future; check the day and the hour', pointer: `#/${field}` }
}
