import { type Holiday, isHoliday } from './contact.ts'

const usualLook = [
  'Are all fish there and swimming as always?',
  'Is the filter running, is the water clear and at its usual height?',
  'Is the thermometer where it always is?'
] as const

/**
 * What a friend who looks after the tank has to know, line by line. Nobody feeds from the tin: more fish die of
 * a friend's kindness than of two weeks without food (common practice, no source).
 */
export function friendCardLines(holiday: Holiday): readonly string[] {
  const { lookAt, labelledPortions, call } = holiday.card
  return [
    'You look after this tank while its keeper is away.',
    ...[...usualLook, ...lookAt].map((line) => `Look: ${line}`),
    labelledPortions
      ? 'Feed: only the portion that is labelled with today’s day. If none stands there, feed nothing.'
      : 'Feed: nothing. The fish can go without for this time.',
    'Never add food, chemicals or water on your own. Keep your hands out of the water: mains power is near it.',
    `If something looks wrong, call: ${call}`,
    'You may say that you have seen an alarm. More is not asked of you.'
  ]
}

/** The card for a contact who is the friend now; empty for everybody else. */
export const cardFor = (holiday: Holiday | null, contactId: string, nowMs: number): readonly string[] =>
  isHoliday(holiday, nowMs) && holiday.friendId === contactId ? friendCardLines(holiday) : []
