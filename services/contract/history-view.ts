import { z } from 'zod'
import { alarmView } from './alarm-view.ts'
import { eventView } from './event-entry.ts'
import { unsafeSpell } from './spell-view.ts'
import { testView } from './test-entry.ts'

/** One quantity over a period. */
const quantitySummary = z.object({
  quantity: z.string(),
  unit: z.string(),
  mean: z.number().nullable(),
  min: z.number().nullable(),
  max: z.number().nullable(),
  first: z.number().nullable(),
  last: z.number().nullable(),
  count: z.number()
})

/** A spell as it is known now; `revised` where it was not seen so while it went on, with what was seen then. */
const historySpell = unsafeSpell.extend({
  revised: z.boolean(),
  seenThen: unsafeSpell.nullable().optional()
})

export const historyView = z.object({
  tankId: z.string(),
  fromMs: z.number(),
  toMs: z.number(),
  summary: z.array(quantitySummary),
  spells: z.array(historySpell),
  /** Seen while they went on, but not so with what is known now. */
  noLonger: z.array(unsafeSpell),
  events: z.array(eventView),
  tests: z.array(testView),
  alarms: z.array(alarmView),
  /** The period in plain sentences, written from the facts beside it. */
  account: z.array(z.string())
})
export type HistoryView = z.infer<typeof historyView>
export type QuantitySummary = z.infer<typeof quantitySummary>
