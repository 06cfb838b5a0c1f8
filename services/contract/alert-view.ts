import { z } from 'zod'
import { priorities } from '../tank/alarm-names.ts'
import { messageStates } from '../tank/message.ts'

/** One message to one person with everything that happened to it. */
export const messageView = z.object({
  id: z.string(),
  sort: z.enum(['alarm', 'digest', 'test']),
  contactId: z.string(),
  contactName: z.string().nullable(),
  /** What it is about, in a few words. */
  about: z.string(),
  tankId: z.string().nullable(),
  alarmId: z.string().nullable(),
  priority: z.enum(priorities),
  because: z.string(),
  state: z.enum(messageStates),
  madeAtMs: z.number(),
  dueAtMs: z.number(),
  tries: z.number(),
  fates: z.array(
    z.object({
      atMs: z.number(),
      wayId: z.string().nullable(),
      /** By which way, in words; null where it was none, or one that is gone. */
      way: z.string().nullable(),
      what: z.string(),
      because: z.string(),
      /** The same in a sentence. */
      words: z.string()
    })
  )
})
export type MessageView = z.infer<typeof messageView>

/** What one way answered to "send me an alert now". */
export const testResult = z.object({
  contactId: z.string().nullable(),
  contactName: z.string().nullable(),
  wayId: z.string(),
  kind: z.string(),
  outcome: z.enum(['delivered', 'failed', 'refused']),
  because: z.string(),
  /** The result in a plain sentence. */
  words: z.string(),
  tookMs: z.number()
})
export type TestResult = z.infer<typeof testResult>

/** Whether anybody would be told, and how the ways are. */
export const alertOverview = z.object({
  somebodyIsTold: z.boolean(),
  /** What the wall says about it. */
  words: z.string(),
  contacts: z.number(),
  ways: z.number(),
  waysInTrouble: z.number(),
  waiting: z.number(),
  undelivered: z.array(z.object({ tankId: z.string(), sinceMs: z.number() })),
  mailServer: z.object({ isSet: z.boolean(), from: z.string().nullable() }),
  push: z.object({ publicKey: z.string(), isPossible: z.boolean(), words: z.string() }),
  linksWork: z.boolean(),
  drill: z.object({ lastAtMs: z.number().nullable(), dueAtMs: z.number().nullable(), words: z.string() }),
  holidayIsOn: z.boolean(),
  heartbeat: z.boolean(),
  /** What nobody is told while the watch itself is down. */
  limits: z.string()
})
export type AlertOverview = z.infer<typeof alertOverview>
