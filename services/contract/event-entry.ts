import { z } from 'zod'
import { timeOf } from './time-of.ts'

const speciesId = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/)
  .max(80)
const count = z.int().min(1).max(10_000)
const text = z.string().trim().min(1).max(120)
const amount = z.number().positive().max(100_000)

const waterChanged = z
  .strictObject({
    fraction: z.number().gt(0).max(1).optional(),
    litres: amount.optional(),
    tapTempC: z.number().min(0).max(60).optional(),
    conditioner: z.union([z.boolean(), text]).optional()
  })
  .refine((data) => (data.fraction === undefined) !== (data.litres === undefined), {
    message: 'say how much as a fraction (0.3) or in litres, one of the two',
    path: ['fraction']
  })

/** What belongs to each kind of event. */
const dataByKind = {
  'fish-added': z.strictObject({
    speciesId,
    count,
    sizeCm: amount.optional(),
    quarantined: z.boolean().optional()
  }),
  'fish-removed': z.strictObject({ speciesId, count }),
  'fish-died': z.strictObject({ speciesId, count, reason: text.optional() }),
  'fish-look-wrong': z.strictObject({ signs: z.array(text).min(1).max(20) }),
  fed: z.strictObject({ grams: amount.optional(), pinches: amount.optional() }),
  'water-changed': waterChanged,
  'topped-up': z.strictObject({ litres: amount, treated: z.boolean().optional() }),
  dosed: z.strictObject({ substance: text, amount, unit: text }),
  'conditioner-added': z.strictObject({
    substance: text.optional(),
    amount: amount.optional(),
    unit: text.optional()
  }),
  medicated: z.strictObject({ substance: text, amount: amount.optional(), unit: text.optional() }),
  'filter-stopped': z.strictObject({ minutes: amount.optional() }),
  'filter-started': z.strictObject({}),
  'filter-cleaned': z.strictObject({ how: z.enum(['tank-water', 'tap', 'media-replaced']) }),
  'plants-changed': z.strictObject({}),
  'lights-changed': z.strictObject({}),
  'co2-changed': z.strictObject({}),
  'heater-changed': z.strictObject({ amount: amount.optional(), unit: text.optional() }),
  'probe-changed': z.strictObject({ substance: text.optional() }),
  'probe-cleaned': z.strictObject({ substance: text.optional() }),
  'maintenance-started': z.strictObject({ minutes: z.number().min(1).max(240) }),
  'maintenance-ended': z.strictObject({}),
  filled: z.strictObject({}),
  note: z.strictObject({})
} as const

const shared = {
  atMs: timeOf,
  note: z.string().max(2000).optional(),
  clientKey: z.string().min(1).max(100).optional()
}
type Kinds = keyof typeof dataByKind
/** Kinds whose number or name is their meaning: their data may not be left out. */
const withData = new Set<string>([
  'fish-added',
  'fish-removed',
  'fish-died',
  'fish-look-wrong',
  'water-changed',
  'topped-up',
  'dosed',
  'medicated',
  'filter-cleaned',
  'maintenance-started'
])
const kindNames = Object.keys(dataByKind) as [Kinds, ...Kinds[]]

export const newEvent = z
  .strictObject({ kind: z.enum(kindNames), data: z.unknown().optional(), ...shared })
  .superRefine((event, context) => {
    const parsed = dataByKind[event.kind].safeParse(event.data ?? {})
    if (event.data === undefined && !withData.has(event.kind)) return
    if (parsed.success) return
    for (const issue of parsed.error.issues)
      context.addIssue({ code: 'custom', path: ['data', ...issue.path], message: issue.message })
  })
export const changedEvent = z.strictObject({
  atMs: timeOf.optional(),
  data: z.unknown().optional(),
  note: z.string().max(2000).optional()
})
/** Checks the data of an amended event against its kind; answers the faults in words. */
export function faultsOfEventData(kind: Kinds, data: unknown): readonly string[] {
  const parsed = dataByKind[kind].safeParse(data ?? {})
  return parsed.success ? [] : parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`)
}

export const eventView = z.object({
  id: z.string(),
  atMs: z.number(),
  kind: z.enum(kindNames),
  data: z.record(z.string(), z.unknown()).optional(),
  note: z.string().optional(),
  amended: z.boolean().optional()
})
export type EventView = z.infer<typeof eventView>
