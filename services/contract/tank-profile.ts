import { z } from 'zod'

const wallTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'give a time of day such as 08:30')
const onOff = z.strictObject({ on: wallTime, off: wallTime })
const speciesId = z
  .string()
  .regex(
    /^[a-z0-9]+(-[a-z0-9]+)*$/,
    'give the scientific name in lower case with hyphens, such as puntius-titteya'
  )
  .max(80)
const timeZone = z.string().refine(isTimeZone, 'give a time zone of the IANA list, such as Europe/Vienna')

/** What the keeper tells about a tank. */
export const tankProfile = z.strictObject({
  name: z.string().trim().min(1).max(60),
  volumeL: z.number().min(1).max(100_000).meta({ description: 'net water, litres' }),
  setpointC: z.number().min(5).max(40).optional(),
  heaterW: z.number().min(0).max(20_000).optional(),
  heaters: z
    .array(z.strictObject({ watts: z.number().min(1).max(10_000) }))
    .max(8)
    .optional(),
  roomC: z.number().min(-10).max(45).optional(),
  khDKh: z.number().min(0).max(40).optional(),
  ghDGh: z.number().min(0).max(60).optional(),
  chlorideMgL: z.number().min(0).max(20_000).optional(),
  salinityGkg: z.number().min(0).max(40).optional(),
  species: z
    .array(z.strictObject({ id: speciesId, count: z.int().min(0).max(10_000) }))
    .max(60)
    .optional(),
  tap: z
    .strictObject({
      tempC: z.number().min(0).max(60).optional(),
      pH: z.number().min(3).max(11).optional(),
      khDKh: z.number().min(0).max(40).optional(),
      ghDGh: z.number().min(0).max(60).optional(),
      nitrateMgL: z.number().min(0).max(500).optional(),
      ammoniaMgLAsN: z.number().min(0).max(50).optional(),
      disinfectant: z.enum(['none', 'chlorine', 'chloramine', 'unknown']).optional()
    })
    .optional(),
  start: z
    .strictObject({
      answer: z.enum(['dry', 'filled', 'fish-new', 'fish-established']),
      atMs: z.number().int().min(0)
    })
    .optional(),
  lights: onOff.optional(),
  co2: onOff.optional(),
  plants: z.enum(['none', 'few', 'many']).optional(),
  filter: z
    .strictObject({ kind: z.string().max(80).optional(), seededAtMs: z.number().int().min(0).optional() })
    .optional(),
  lid: z.boolean().optional(),
  purpose: z.enum(['display', 'quarantine', 'rearing']).optional(),
  kit: z.strictObject({
    ammoniaBasis: z.enum(['N', 'NH3', 'NH4']),
    nitriteBasis: z.enum(['N', 'NO2']),
    nitrateBasis: z.enum(['N', 'NO3']),
    steps: z.record(z.string().max(20), z.array(z.number().min(0).max(10_000)).max(30)).optional()
  }),
  timeZone
})
export type TankProfileBody = z.infer<typeof tankProfile>

export const tankId = z
  .string()
  .regex(/^[a-z0-9-]{1,32}$/, 'use 1 to 32 lower-case letters, digits and hyphens')
export const newTank = z.strictObject({ id: tankId.optional(), ...tankProfile.shape })
const always: readonly string[] = ['name', 'volumeL', 'kit', 'timeZone']
type Shape = typeof tankProfile.shape
/** Each field may be left out; what a tank can do without may also be cleared with null. */
export const changedTank = z.strictObject(
  Object.fromEntries(
    Object.entries(tankProfile.shape).map(([name, field]) => [
      name,
      always.includes(name) ? field.optional() : field.nullish()
    ])
  ) as unknown as { [Name in keyof Shape]: z.ZodOptional<z.ZodNullable<Shape[Name]>> }
)
export const tankView = z.object({
  id: z.string(),
  profile: tankProfile,
  createdAtMs: z.number(),
  archivedAtMs: z.number().nullable()
})
export type TankView = z.infer<typeof tankView>

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name })
    return true
  } catch {
    return false
  }
}
