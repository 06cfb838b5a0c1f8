import { z } from 'zod'

/** What a keeper sees when fish look wrong; what was not answered is `unsure`. */
export const lookEntry = z.strictObject({
  gasping: z.enum(['yes', 'no', 'unsure']).default('unsure'),
  since: z.enum(['water-change', 'something-added', 'new-fish', 'nothing', 'unsure']).default('unsure'),
  who: z.enum(['all', 'one', 'unsure']).default('unsure'),
  clientKey: z.string().min(1).max(100).optional()
})
export type LookEntry = z.infer<typeof lookEntry>

/** What to do now, in order, from what the keeper sees and the watch knows. */
export const lookView = z.object({
  /** Of the event in the diary. */
  id: z.string(),
  atMs: z.number(),
  suspects: z.array(z.object({ suspect: z.string(), why: z.string() })),
  /** The first ones are safe whatever the cause; `acute` ones are meant for this minute. */
  steps: z.array(z.object({ step: z.string(), words: z.string(), acute: z.boolean() })),
  never: z.array(z.string()),
  /** What the watch knows of the water now. */
  knows: z.array(z.string()),
  caution: z.string()
})
export type LookView = z.infer<typeof lookView>
