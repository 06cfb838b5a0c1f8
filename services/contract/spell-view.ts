import { z } from 'zod'

/** A stretch without a break in which a value was unsafe for the fish in the water. */
export const unsafeSpell = z.object({
  quantity: z.enum(['nh3', 'nitrite', 'chlorine', 'temperature', 'ph']),
  side: z.enum(['above', 'below']),
  fromMs: z.number(),
  /** Its end, or the last moment known while it goes on. */
  toMs: z.number(),
  ongoing: z.boolean(),
  /** Nothing could be told any more, so that its end is not known. */
  endUnknown: z.boolean(),
  severity: z.enum(['watch', 'act', 'emergency']),
  worst: z.number(),
  worstAtMs: z.number(),
  /** Amount over time, with the doubt of tests and probes. */
  exposure: z.number(),
  exposureLow: z.number(),
  exposureHigh: z.number(),
  unit: z.string()
})
