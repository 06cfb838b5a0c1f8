import { z } from 'zod'
import { priorities } from '../tank/alarm-names.ts'
import { timeOf } from './time-of.ts'

const name = z.string().trim().min(1).max(60)
const timeOfDay = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'write a time of day such as 22:00')
const timeZone = z.string().max(60).refine(isTimeZone, 'name a time zone such as Europe/Vienna')
const webAddress = z
  .string()
  .max(1000)
  .refine(isWebAddress, 'give a whole web address, http:// or https://, without a name or password in it')
/** Printable ASCII, so that no line break or foreign sign gets into a header. */
const headerValue = z
  .string()
  .max(1000)
  .regex(/^[\x20-\x7e]*$/, 'use plain letters, digits and signs only')
const headers = z
  .record(
    z.string().regex(/^[A-Za-z0-9-]{1,60}$/, 'name a header with letters, digits and hyphens'),
    headerValue
  )
  .refine((given) => Object.keys(given).length <= 20, 'at most 20 headers')
  .refine(
    (given) => !Object.keys(given).some((key) => forbiddenHeaders.has(key.toLowerCase())),
    'host, length and connection headers are set by the watch itself'
  )
const forbiddenHeaders = new Set(['host', 'content-length', 'transfer-encoding', 'connection', 'upgrade'])

const wayId = z.string().min(1).max(40)
const label = z.string().trim().max(60)
const shared = { id: wayId.optional(), label: label.optional() }
/** Whether the way may lead to this machine or into the home network. */
const allowPrivate = z.boolean().default(false)

/** What a keeper enters for one way to a person. A secret that is left out on a change stays as it was. */
export const wayEntry = z.discriminatedUnion('kind', [
  z.strictObject({ ...shared, kind: z.literal('email'), address: z.email().max(254) }),
  z.strictObject({
    ...shared,
    kind: z.literal('post'),
    url: webAddress,
    headers: headers.optional(),
    contentType: z
      .enum(['text/plain', 'application/json', 'application/x-www-form-urlencoded'])
      .default('text/plain'),
    /** `{{title}} {{short}} {{full}} {{priority}} {{tank}} {{link}} {{id}}` stand for the message's parts. */
    template: z.string().min(1).max(4000).default('{{short}}\n{{link}}'),
    allowPrivate
  }),
  z.strictObject({
    ...shared,
    kind: z.literal('webhook'),
    url: webAddress,
    secret: z.string().min(16).max(200).optional(),
    allowPrivate
  }),
  z.strictObject({
    ...shared,
    kind: z.literal('push'),
    subscription: z
      .object({
        endpoint: webAddress,
        keys: z.object({
          p256dh: z.string().regex(/^[A-Za-z0-9_-]{80,100}={0,2}$/),
          auth: z.string().regex(/^[A-Za-z0-9_-]{20,24}={0,2}$/)
        })
      })
      .optional(),
    allowPrivate
  })
])
export type WayEntry = z.infer<typeof wayEntry>

export const contactEntry = z.strictObject({
  name,
  timeZone,
  /** Between these local times only critical alarms come through. */
  quietHours: z
    .strictObject({ from: timeOfDay, to: timeOfDay })
    .nullable()
    .default({ from: '22:00', to: '07:00' }),
  /** Told when an alarm has stood unacknowledged for so long; 0 = at once. */
  afterMinutes: z.int().min(0).max(1440).default(0),
  /** Milder alarms stand in the digest only. */
  leastPriority: z.enum(priorities).default('medium'),
  digestAt: timeOfDay.nullable().default(null),
  /** Tanks of concern; all where left out. */
  tanks: z.array(z.string().max(32)).max(100).optional(),
  /** In the order in which they are tried. */
  ways: z.array(wayEntry).max(8)
})
export type ContactEntry = z.infer<typeof contactEntry>

/** A way as it is shown: no secret, no subscription key. */
export const wayView = z.object({
  id: z.string(),
  kind: z.enum(['email', 'post', 'webhook', 'push']),
  label: z.string().optional(),
  address: z.string().optional(),
  url: z.string().optional(),
  headerNames: z.array(z.string()).optional(),
  contentType: z.string().optional(),
  template: z.string().optional(),
  allowPrivate: z.boolean().optional(),
  /** Null while it works or was never tried; else why not, and when it is tried again. */
  trouble: z
    .object({
      because: z.string(),
      /** The same in a sentence that says what to do. */
      words: z.string(),
      sinceMs: z.number(),
      /** Until when the way rests after failing again and again; null while it does not rest. */
      nextTryMs: z.number().nullable()
    })
    .nullable(),
  lastDeliveredMs: z.number().nullable()
})
export const contactView = z.object({
  id: z.string(),
  name: z.string(),
  timeZone: z.string(),
  quietHours: z.object({ from: z.string(), to: z.string() }).nullable(),
  afterMinutes: z.number(),
  leastPriority: z.enum(priorities),
  digestAt: z.string().nullable(),
  tanks: z.array(z.string()).optional(),
  ways: z.array(wayView),
  /** Shown this once: the signing secrets of webhooks that were made with this answer, by way. */
  newSecrets: z.record(z.string(), z.string()).optional()
})
export type ContactView = z.infer<typeof contactView>

const line = z.string().trim().min(1).max(300)
export const holidayEntry = z
  .strictObject({
    from: timeOf,
    until: timeOf,
    /** Told first while the keeper is away. */
    friendId: z.string().max(40),
    card: z.strictObject({
      lookAt: z.array(line).max(12).default([]),
      /** Portions stand beside the tank, one for each day; otherwise the friend feeds nothing. */
      labelledPortions: z.boolean().default(false),
      call: line
    })
  })
  .refine((holiday) => holiday.until > holiday.from, {
    message: 'the end lies before the start',
    path: ['until']
  })
export const holidayView = z.object({
  fromMs: z.number(),
  untilMs: z.number(),
  friendId: z.string(),
  card: z.object({ lookAt: z.array(z.string()), labelledPortions: z.boolean(), call: z.string() }),
  isNow: z.boolean(),
  /** What the friend reads, line by line. */
  cardLines: z.array(z.string())
})
export type HolidayView = z.infer<typeof holidayView>

export const heartbeatEntry = z.strictObject({
  url: webAddress,
  everyMinutes: z.int().min(1).max(1440).default(5),
  allowPrivate
})
export const heartbeatView = z.object({
  url: z.string(),
  everyMinutes: z.number(),
  allowPrivate: z.boolean(),
  lastOkMs: z.number().nullable(),
  lastFault: z.string().nullable()
})
export type HeartbeatView = z.infer<typeof heartbeatView>

function isTimeZone(text: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text })
    return true
  } catch {
    return false
  }
}

/** http or https, and no name and password before the host: those would show in every list. */
function isWebAddress(text: string): boolean {
  return z.url({ protocol: /^https?$/ }).safeParse(text).success && !/^https?:\/\/[^/?#]*@/i.test(text)
}
