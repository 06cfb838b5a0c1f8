import { z } from 'zod'

const password = z.string().min(8, 'at least 8 characters').max(256)
const label = z.string().trim().min(1).max(60)

/** How this household reads numbers. Inside, units never change. */
export const houseSettings = z.strictObject({
  language: z.enum(['en']),
  temperatureUnit: z.enum(['Cel', 'degF']),
  volumeUnit: z.enum(['L', 'gal-us', 'gal-imp']),
  hardnessUnit: z.enum(['dKH', 'ppm']),
  clock: z.enum(['24', '12']),
  /** Boards and tablets on the home network may come in. */
  letHomeNetworkIn: z.boolean(),
  /** Wall tablets may type in water tests. */
  tabletsMayTest: z.boolean()
})
export type HouseSettings = z.infer<typeof houseSettings>
export const changedSettings = houseSettings.partial()

export const setupBody = z.strictObject({
  code: z.string().min(4).max(64),
  password,
  settings: changedSettings.optional()
})
export const sessionBody = z.strictObject({ password: z.string().max(1024) })
export const tabletBody = z.strictObject({ label, role: z.enum(['wall', 'helper']).default('wall') })
/** What the tablet sends after it has read the code. */
export const joinBody = z.strictObject({ code: z.string().min(8).max(128) })
export const boardBody = z.strictObject({
  name: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/, 'use letters, digits, dot, hyphen and underscore'),
  tankIds: z.array(z.string()).min(1).max(50)
})
export const boardView = z.object({
  id: z.string(),
  name: z.string(),
  tankIds: z.array(z.string()),
  createdAtMs: z.number()
})
export const tabletView = z.object({
  id: z.string(),
  label: z.string(),
  role: z.string(),
  createdAtMs: z.number(),
  lastSeenMs: z.number()
})
export const meView = z.object({
  role: z.enum(['keeper', 'helper', 'wall']).nullable(),
  label: z.string().nullable(),
  setupDone: z.boolean(),
  settings: houseSettings,
  version: z.string(),
  mqtt: z.object({
    host: z.string(),
    port: z.number(),
    passwordNeeded: z.boolean(),
    builtIn: z.boolean(),
    /** A broker that somebody else runs: whether we are connected, and what is wrong if anything. */
    external: z.object({ connected: z.boolean(), why: z.string().nullable() }).optional()
  }),
  /** A change of address takes effect with the next start. */
  restartNeeded: z.boolean()
})
export type MeView = z.infer<typeof meView>

export const probeView = z.object({
  id: z.string(),
  tankId: z.string(),
  name: z.string(),
  firstAtMs: z.number(),
  /** Since when it is out of the tank; null while it is in. */
  outSinceMs: z.number().nullable(),
  quantities: z.array(
    z.object({
      quantity: z.string(),
      leading: z.boolean(),
      lastAtMs: z.number().nullable(),
      lastValue: z.number().nullable(),
      lastFlag: z.number().nullable(),
      conflicts: z.number()
    })
  )
})
export const refusedView = z.object({
  refusals: z.array(
    z.object({
      topic: z.string(),
      payloadStart: z.string(),
      code: z.string(),
      reason: z.string(),
      count: z.number(),
      firstAtMs: z.number(),
      lastAtMs: z.number(),
      clientId: z.string().optional()
    })
  ),
  waitingTanks: z.array(
    z.object({
      tankId: z.string(),
      count: z.number(),
      firstAtMs: z.number(),
      lastAtMs: z.number(),
      probes: z.array(z.string())
    })
  ),
  clocks: z.array(z.object({ tankId: z.string(), probe: z.string(), why: z.string(), atMs: z.number() })),
  clients: z.array(z.object({ clientId: z.string(), why: z.string(), atMs: z.number() }))
})
export type RefusedView = z.infer<typeof refusedView>
export const problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number(),
  detail: z.string(),
  code: z.string(),
  instance: z.string().optional(),
  errors: z.array(z.object({ detail: z.string(), pointer: z.string() })).optional()
})
export type Problem = z.infer<typeof problem>
