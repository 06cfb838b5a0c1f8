import { z } from 'zod'
import { isQuantity, quantities, unitsOf } from '../tank/quantity.ts'

/** Topics outside our scheme: what was heard on them, and what the keeper made of them. */
export const assignmentView = z.object({
  id: z.string(),
  topic: z.string(),
  pointer: z.string(),
  quantity: z.string(),
  unit: z.string(),
  tank: z.string(),
  probe: z.string(),
  madeAtMs: z.number()
})

export const heardView = z.object({
  /** Until then it listens; each asking puts it off by some minutes. */
  listeningUntilMs: z.number(),
  topics: z.array(
    z.object({
      topic: z.string(),
      count: z.number(),
      firstAtMs: z.number(),
      lastAtMs: z.number(),
      bytes: z.number(),
      /** Numbers in the last message, each with the JSON pointer to assign it by; empty means the whole message. */
      numbers: z.array(z.object({ pointer: z.string(), value: z.number() })),
      without: z.enum(['not-text', 'no-number', 'too-large']).nullable(),
      assigned: z.boolean()
    })
  ),
  /** Messages on further topics, for which there was no room. */
  more: z.number(),
  assignments: z.array(assignmentView)
})
export type HeardView = z.infer<typeof heardView>
export type AssignmentView = z.infer<typeof assignmentView>

const foreignTopic = z
  .string()
  .min(1)
  .max(512)
  .regex(/^[^+#\p{Cc}]+$/u, 'give one topic without + or #')
  .refine((topic) => !topic.startsWith('$'), 'topics that begin with $ belong to the broker itself')
  .refine(
    (topic) => topic !== 'shoal' && !topic.startsWith('shoal/'),
    'topics under shoal/ are understood by themselves and need no assignment'
  )
  .refine((topic) => topic.split('/').length <= 10, 'at most ten levels')

/** Which number of a foreign topic is which quantity of which probe. */
export const assignmentBody = z
  .strictObject({
    topic: foreignTopic,
    pointer: z
      .string()
      .max(200)
      .regex(/^(?:\/(?:[^~/]|~[01])*)*$/, 'a JSON pointer is empty or begins with / (RFC 6901)')
      .default(''),
    quantity: z.enum(quantities),
    unit: z.string().max(20).optional(),
    tank: z.string(),
    probe: z
      .string()
      .regex(
        /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/,
        'a letter or digit first, then letters, digits, dot, hyphen or underscore'
      )
  })
  .check((context) => {
    const { quantity, unit } = context.value
    if (unit === undefined || !isQuantity(quantity) || unitsOf(quantity).includes(unit)) return
    context.issues.push({
      code: 'custom',
      input: unit,
      path: ['unit'],
      message: `does not fit ${quantity}; use ${unitsOf(quantity).join(' or ')}`
    })
  })
export type AssignmentBody = z.input<typeof assignmentBody>

/** What became of a pack of readings. */
export const packAnswer = z.object({
  stored: z.number(),
  /** Known already, with the same value. */
  same: z.number(),
  /** Another value holds that moment; the first stays. */
  conflicts: z.number(),
  /** For a tank that is not there; they wait until it is made. */
  held: z.number(),
  refused: z.array(z.object({ code: z.string(), reason: z.string() }))
})
