import { z } from 'zod'

const tasks = [
  'water-change',
  'test-water',
  'calibrate-ph-probe',
  'filter-care',
  'heater-check',
  'seals-check'
] as const

/** Something that is to be done about a tank. A prompt: it never rings. */
export const upkeepView = z.object({
  task: z.enum(tasks),
  title: z.string(),
  words: z.string(),
  /** By which rule it is due. */
  why: z.string(),
  caution: z.string(),
  everyDays: z.number(),
  lastDoneMs: z.number().nullable(),
  dueAtMs: z.number(),
  isDue: z.boolean(),
  /** Whether one touch says that it is done; the others are done by their own entry. */
  byTouch: z.boolean()
})
export type UpkeepView = z.infer<typeof upkeepView>
/** What one touch can say. */
export const touchTasks = ['calibrate-ph-probe', 'filter-care', 'heater-check', 'seals-check'] as const

export const feedEntry = z.strictObject({
  tankId: z.string().max(32),
  label: z.string().trim().min(1).max(60)
})
export const feedView = z.object({
  id: z.string(),
  tankId: z.string(),
  label: z.string(),
  createdAtMs: z.number()
})
export const madeFeed = feedView.extend({
  path: z.string().meta({ description: 'the address with its key, shown this once' })
})
