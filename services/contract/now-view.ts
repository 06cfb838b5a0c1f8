import { z } from 'zod'
import { alarmView } from './alarm-view.ts'
import { unsafeSpell } from './spell-view.ts'

const flag = z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)])

/** The newest word of a probe on one quantity. */
export const readingNow = z.object({
  value: z.number(),
  unit: z.string(),
  atMs: z.number(),
  flag,
  ageMs: z.number(),
  trendPerHour: z.number().nullable(),
  probe: z.string(),
  /** Which test gave a flag that is no pass. */
  why: z.string().optional(),
  /** Another probe leads, but is silent or failed: this one speaks for it. */
  standIn: z.boolean().optional(),
  /** No longer to be taken as the present: silent for longer than three intervals, or a value of unknown age. */
  stale: z.boolean(),
  /** A retained message without a time: known once, age unknown. */
  lastKnown: z.boolean(),
  /** How often this probe has been publishing, milliseconds. */
  everyMs: z.number().nullable()
})

/** A computed number with its doubt; null where it cannot be known, with the reason. */
export const derivedNow = z.object({
  value: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  estimated: z.boolean(),
  /** The moment of the oldest fact it rests on (the water test). */
  asOfMs: z.number().nullable(),
  /** A named reason, e.g. `carried-from-test`, `no-ammonia-test`, `too-old`, `bound-cannot-tell`, `no-ph`. */
  reason: z.string(),
  trendPerHour: z.number().nullable(),
  /** What it was made from, for the page's answer to "from what?". */
  from: z.record(z.string(), z.union([z.string(), z.number(), z.null()])).optional()
})

export const testNow = z.object({
  value: z.number(),
  unit: z.string(),
  basis: z.string().optional(),
  atMs: z.number(),
  atLeast: z.boolean().optional(),
  atMost: z.boolean().optional(),
  /** In the one unit used inside (mg/L as N, dKH, pH, Cel). */
  canonicalValue: z.number()
})

/** The band in which this tank's value is fine, and where it becomes dangerous; with the reason of each. */
export const band = z.object({
  low: z.number().nullable(),
  high: z.number().nullable(),
  dangerLow: z.number().nullable(),
  dangerHigh: z.number().nullable(),
  reason: z.string()
})

/** What is said without ringing: a warning, a question, what is easily forgotten. */
const notice = z.object({
  notice: z.string(),
  words: z.string(),
  asks: z.array(z.string()).optional(),
  sinceMs: z.number().optional()
})
export type NoticeNow = z.infer<typeof notice>

export const nowView = z.object({
  atMs: z.number(),
  tankId: z.string(),
  name: z.string(),
  stage: z.enum(['dry', 'filled', 'fishless-cycling', 'stocked-new', 'stocked']),
  livestock: z.array(z.object({ speciesId: z.string(), count: z.number() })),
  readings: z.record(z.string(), readingNow),
  derived: z.object({ nh3MgL: derivedNow, co2MgL: derivedNow }),
  tests: z.record(z.string(), testNow),
  bands: z.record(z.string(), band),
  alarms: z.array(alarmView),
  cycle: z.null(),
  /** The one sentence on top of the wall view. */
  sentence: z.string(),
  /** The same in facts, for a page that speaks in its own words. */
  verdict: z.object({
    level: z.enum(['well', 'watch', 'act', 'danger', 'unknown']),
    because: z.string(),
    facts: z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])).optional()
  }),
  /** The next thing to do, as a named step with its facts. */
  next: z.object({
    step: z.string(),
    dueAtMs: z.number().nullable(),
    words: z.string()
  }),
  /** Most important first. */
  notices: z.array(notice),
  /** Unsafe spells that go on now. */
  spells: z.array(unsafeSpell),
  /** Set while hands are in the tank. */
  maintenanceUntilMs: z.number().nullable(),
  /** Set while the filter is off, as far as anybody said. */
  filterOffSinceMs: z.number().nullable(),
  /** When the watch itself was off of late: nobody looked then. Said for a day. */
  watchOff: z.object({ fromMs: z.number(), toMs: z.number() }).nullable().optional(),
  /** Made by the virtual tank. */
  virtual: z.boolean()
})
export type NowView = z.infer<typeof nowView>
export type ReadingNow = z.infer<typeof readingNow>
export type TestNow = z.infer<typeof testNow>
export type Band = z.infer<typeof band>
