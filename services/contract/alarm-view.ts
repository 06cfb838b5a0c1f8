import { z } from 'zod'
import { alarmKinds, alarmStates, priorities } from '../tank/alarm-names.ts'

export const finding = z.object({
  because: z.string(),
  value: z.number().optional(),
  unit: z.string().optional(),
  limit: z.number().optional(),
  trendPerHour: z.number().optional(),
  hoursLeft: z.number().optional(),
  certaintyFrac: z.number().optional(),
  sinceMs: z.number().optional(),
  facts: z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])).optional()
})

/** One activation of an alarm as the page and others see it. */
export const alarmView = z.object({
  id: z.string(),
  tankId: z.string(),
  kind: z.enum(alarmKinds),
  subject: z.string(),
  state: z.enum(alarmStates),
  priority: z.enum(priorities),
  raisedAtMs: z.number(),
  acknowledgedAtMs: z.number().nullable(),
  acknowledgedBy: z.string().nullable(),
  clearedAtMs: z.number().nullable(),
  shelvedUntilMs: z.number().nullable(),
  finding: finding.nullable(),
  /** What a keeper needs at three in the morning, in plain words. */
  words: z.object({
    what: z.string(),
    howSure: z.string(),
    timeLeft: z.string(),
    confirm: z.array(z.string()),
    doNow: z.array(z.string()),
    doNot: z.array(z.string()),
    caution: z.string()
  }),
  /** When it rings, as the house judges it. */
  rule: z.string().optional(),
  /** When it rings again, in plain words. */
  ringsAgain: z.string(),
  changes: z.array(
    z.object({
      atMs: z.number(),
      from: z.string(),
      to: z.string(),
      because: z.string(),
      by: z.string().optional()
    })
  )
})
export type AlarmView = z.infer<typeof alarmView>

export const shelveBody = z.strictObject({
  minutes: z.number().min(1).max(1440).default(60),
  note: z.string().max(500).optional()
})
export const alarmActionBody = z.strictObject({ note: z.string().max(500).optional() })

/** How noisy a watch is: one plain number, and which share was how urgent. */
export const noiseView = z.object({
  days: z.number(),
  alarms: z.number(),
  perWeek: z.number(),
  shares: z.object({ critical: z.number(), high: z.number(), medium: z.number(), low: z.number() }),
  words: z.string()
})
export type NoiseView = z.infer<typeof noiseView>
