import { isQuantity, type Quantity, quantities } from '../tank/quantity.ts'
import { quoted, type Refused, refused } from './refused.ts'

/** Where a message wants to go. */
export type Address =
  | Readonly<{ kind: 'plain'; tankId: string; probe: string; quantity: Quantity }>
  | Readonly<{ kind: 'senml'; tankId: string }>
  | Readonly<{ kind: 'foreign' }>

export const mostTopicLevels = 10
const longestTopic = 512
const tankName = /^[a-z0-9-]{1,32}$/
const probeName = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are exactly what must not pass.
const hiddenCharacters = /[\u0000-\u001f\u007f-\u009f\ufffd]/

export const isTankName = (text: string): boolean => tankName.test(text)
export const isProbeName = (text: string): boolean => probeName.test(text)

const badTopic = (because: string, reason: string): Refused =>
  refused({ code: 'INTAKE_BAD_TOPIC', because, reason })

const scheme = 'Publish to shoal/<tank>/<probe>/<quantity>, for example shoal/kitchen/t1/temperature.'

/** Tells our own topics from foreign ones, and says what is wrong with one that is nearly ours. */
export function parseTopic(topic: string): Address | Refused {
  if (topic === '') return badTopic('empty-topic', `The message has no topic. ${scheme}`)
  if (topic.length > longestTopic)
    return badTopic(
      'topic-too-long',
      `The topic has ${topic.length} characters; ${longestTopic} is the most.`
    )
  if (hiddenCharacters.test(topic) || /[+#]/.test(topic))
    return badTopic('hidden-characters', 'The topic holds characters that cannot be shown, or + or #.')
  const levels = topic.split('/')
  if (levels.length > mostTopicLevels)
    return badTopic(
      'too-many-levels',
      `The topic has ${levels.length} levels; ${mostTopicLevels} is the most.`
    )
  if (levels[0] === 'shoal') return parseOwn(levels)
  if (topic.startsWith('$'))
    return refused({
      code: 'INTAKE_NOT_ALLOWED',
      because: 'broker-topic',
      reason: 'Topics that begin with $ belong to the broker itself.'
    })
  return { kind: 'foreign' }
}

function parseOwn(levels: readonly string[]): Address | Refused {
  const [, tankId = '', third = '', fourth = ''] = levels
  if (levels.length === 2 && tankId === 'status') return ownVoice()
  if (levels.length < 3 || levels.length > 4) return badTopic('not-our-scheme', scheme)
  if (!isTankName(tankId))
    return badTopic(
      'bad-tank-name',
      `${quoted(tankId)} cannot be a tank: lower-case letters, digits and hyphens, at most 32. ${scheme}`
    )
  if (levels.length === 3) {
    if (third === 'senml') return { kind: 'senml', tankId }
    return third === 'alarm' ? ownVoice() : badTopic('not-our-scheme', scheme)
  }
  const probe = checkProbeAndQuantity({ probe: third, quantity: fourth })
  return probe.kind === 'refused' ? probe : { kind: 'plain', tankId, ...probe.found }
}

const ownVoice = (): Refused =>
  refused({
    code: 'INTAKE_NOT_ALLOWED',
    because: 'own-topic',
    reason: 'Only the watch itself speaks on this topic; a board may listen to it.'
  })

type ProbeAndQuantity = Readonly<{ probe: string; quantity: Quantity }>

/** The two names that every reading carries, in a topic as in a SenML name. */
export function checkProbeAndQuantity(
  names: Readonly<{ probe: string; quantity: string }>
): Readonly<{ kind: 'names'; found: ProbeAndQuantity }> | Refused {
  if (!isProbeName(names.probe))
    return badTopic(
      'bad-probe-name',
      `${quoted(names.probe)} cannot be a probe: a letter or digit first, then letters, digits, dot, hyphen or underscore, at most 64.`
    )
  if (!isQuantity(names.quantity))
    return refused({
      code: 'INTAKE_UNKNOWN_QUANTITY',
      because: 'unknown-quantity',
      reason: `${quoted(names.quantity)} is not kept. Known are ${quantities.join(', ')}.`
    })
  return { kind: 'names', found: { probe: names.probe, quantity: names.quantity } }
}
