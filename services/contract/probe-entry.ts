import { z } from 'zod'
import { bufferNames } from '../water/buffers.ts'
import { probeView } from './house-entry.ts'
import { timeOf } from './time-of.ts'

const flag = z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)])
const span = z.tuple([z.number(), z.number()])
const calibrated = z.enum(['ph', 'temperature', 'room-temperature', 'conductivity', 'oxygen', 'level'])
const clientKey = z.string().min(1).max(100).optional()
/** From when on it counts; now unless given. */
const from = timeOf.optional()
const mode = z.enum(['step', 'line']).default('step')

/** One buffer: what the electrode said in it, as millivolts or as the pH that its board shows. */
const point = z
  .strictObject({
    buffer: z.enum(bufferNames),
    tempC: z.number(),
    millivolts: z.number().optional(),
    shownPH: z.number().min(0).max(14).optional()
  })
  .refine((given) => (given.millivolts === undefined) !== (given.shownPH === undefined), {
    error: 'give either millivolts or shownPH'
  })

export const newCalibration = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('electrode'),
    from,
    mode,
    points: z.array(point).min(2, 'two buffers at least').max(5),
    clientKey
  }),
  z.strictObject({
    kind: z.literal('offset'),
    quantity: calibrated,
    from,
    mode,
    /** What the thermometer or the test says, and what the probe itself said beside it (raw). */
    reference: z.number(),
    measured: z.number(),
    tempC: z.number().optional(),
    clientKey
  })
])
export const newLife = z.strictObject({ from, note: z.string().trim().max(200).optional() })

export const limitChanges = z.strictObject({
  fail: span.optional(),
  suspect: span.optional(),
  spike: z
    .strictObject({ suspect: z.number().positive(), fail: z.number().positive().optional() })
    .optional(),
  ratePerHour: z.number().positive().optional(),
  flatLine: z
    .strictObject({
      tolerance: z.number().positive(),
      suspectMs: z.number().positive(),
      failMs: z.number().positive()
    })
    .optional()
})
export const changedProbe = z
  .strictObject({
    name: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/, 'use letters, digits, dot, hyphen and underscore'),
    /** The quantity that this probe leads from now on, or from a given time. */
    leads: z.string(),
    leadsFrom: timeOf,
    /** false: it is taken out of the tank from now on; true: it is put back. */
    inTank: z.boolean(),
    limits: z.strictObject({
      quantity: z.string(),
      /** null goes back to the usual limits. */
      changes: limitChanges.nullable(),
      reason: z.string().trim().min(3, 'say why, for whoever looks at it later').max(300)
    })
  })
  .partial()

export const driftView = z.object({
  verdict: z.enum(['no-reference', 'repeat-reference', 'not-enough', 'steady', 'drifting', 'past-limit']),
  method: z.enum(['prior', 'kalman', 'theil-sen']),
  references: z.number(),
  offsetNow: z.number(),
  offsetSd: z.number(),
  perMonth: z.number(),
  perMonthLow: z.number(),
  perMonthHigh: z.number(),
  passesLimitAtMs: z.number().nullable(),
  wildAtMs: z.number().nullable(),
  jumpedAtMs: z.number().nullable(),
  /** Compared since then: the last calibration, or the beginning of this life. */
  sinceMs: z.number(),
  limit: z.number(),
  reason: z.string(),
  words: z.string(),
  advice: z.string()
})

/** How far one channel of a probe can be trusted now. */
export const channelHealth = z.object({
  probe: z.string(),
  quantity: z.string(),
  flag,
  why: z.string().nullable(),
  words: z.string(),
  /** The newest value as it counts, corrected; null before any. */
  value: z.number().nullable(),
  atMs: z.number().nullable(),
  /** Heard within the last few of its own intervals. */
  fresh: z.boolean(),
  /** Every test; those for information only are never in `flag`. */
  tests: z.record(z.string(), flag),
  stillSinceMs: z.number().nullable(),
  learnedBand: span.nullable(),
  leads: z.boolean(),
  /** It speaks for the tank now although another one leads. */
  standIn: z.boolean(),
  disagreement: z
    .object({ probe: z.string(), own: z.number(), other: z.number(), apart: z.number() })
    .nullable(),
  drift: driftView.nullable()
})
export type ChannelHealth = z.infer<typeof channelHealth>

export const limitsView = z.object({
  fail: span,
  suspect: span.nullable(),
  faultCodes: z.array(z.number()),
  spike: z.object({ suspect: z.number().nullable(), fail: z.number().nullable() }).nullable(),
  ratePerHour: z.number().nullable(),
  flatLine: z
    .object({
      tolerance: z.number(),
      suspectMs: z.number(),
      failMs: z.number(),
      movementDueMs: z.number().nullable()
    })
    .nullable(),
  reasons: z.record(z.string(), z.string())
})
export const limitsOfChannel = z.object({
  quantity: z.string(),
  now: limitsView,
  usual: limitsView,
  changed: z.object({ reason: z.string(), setAtMs: z.number(), setBy: z.string() }).nullable()
})

export const calibrationView = z.object({
  id: z.string(),
  kind: z.enum(['offset', 'electrode']),
  quantity: z.string(),
  fromMs: z.number(),
  mode: z.enum(['step', 'line']),
  madeAtMs: z.number(),
  madeBy: z.string(),
  withdrawnAtMs: z.number().nullable(),
  /** It is the one that counts now. */
  inForce: z.boolean(),
  offset: z.number().nullable(),
  slopeFrac: z.number().nullable(),
  slopeMvPerPh: z.number().nullable(),
  zeroMv: z.number().nullable(),
  verdict: z.enum(['good', 'worn', 'replace', 'implausible']).nullable(),
  words: z.string(),
  points: z.array(z.object({ buffer: z.string(), tempC: z.number(), millivolts: z.number() })),
  /** Of an earlier electrode or sensor on the same board. */
  earlierLife: z.boolean()
})
export const lifeView = z.object({
  id: z.string(),
  fromMs: z.number(),
  note: z.string().nullable(),
  madeAtMs: z.number(),
  madeBy: z.string(),
  withdrawnAtMs: z.number().nullable()
})
export const calibrationsView = z.object({
  calibrations: z.array(calibrationView),
  lives: z.array(lifeView),
  /** Whether the electrode should go, and why; null where nothing speaks for it. */
  retire: z.object({ because: z.string(), words: z.string() }).nullable()
})
export const probeDetail = probeView.extend({
  channels: z.array(channelHealth),
  limits: z.array(limitsOfChannel),
  leadChoices: z.array(z.object({ quantity: z.string(), fromMs: z.number() })),
  ...calibrationsView.shape
})
export const stabilityView = z.object({
  quantity: z.string(),
  unit: z.string(),
  stable: z.boolean(),
  because: z.enum(['too-few', 'too-short', 'still-drifting', 'too-noisy', 'steady']),
  words: z.string(),
  value: z.number().nullable(),
  count: z.number(),
  overMs: z.number(),
  range: z.number(),
  perMinute: z.number().nullable(),
  newestAtMs: z.number().nullable(),
  windowMs: z.number(),
  reason: z.string()
})

export type LimitChangesBody = z.infer<typeof limitChanges>
export type LimitsOfChannel = z.infer<typeof limitsOfChannel>
export type CalibrationsView = z.infer<typeof calibrationsView>
export type CalibrationView = z.infer<typeof calibrationView>
export type NewCalibrationBody = z.input<typeof newCalibration>
export type ProbeDetail = z.infer<typeof probeDetail>
export type StabilityView = z.infer<typeof stabilityView>
