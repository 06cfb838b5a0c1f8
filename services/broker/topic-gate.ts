import type { BrokerOptions, TopicFault } from './broker-port.ts'
import { isOwnTopic, levelsOf, mostTopicLevels, statusTopic, tankOfTopic } from './own-topics.ts'

type Ask = Readonly<{ boardName: string | null; topic: string }>
type Rights = Pick<BrokerOptions, 'authorizeTopic'>

/** Why a board may not publish there; null where it may. */
export function publishFault(ask: Ask, rights: Rights): TopicFault | null {
  if (levelsOf(ask.topic) > mostTopicLevels)
    return {
      code: 'INTAKE_BAD_TOPIC',
      because: 'too-many-levels',
      reason: `The topic has ${levelsOf(ask.topic)} levels; ${mostTopicLevels} is the most.`
    }
  if (ask.topic.startsWith('$'))
    return notAllowed('broker-topic', 'Topics that begin with $ belong to the broker itself.')
  if (isOwnTopic(ask.topic))
    return notAllowed('own-topic', 'Only the watch itself speaks on this topic; a board may listen to it.')
  if (rights.authorizeTopic({ ...ask, tankId: tankOfTopic(ask.topic), way: 'publish' })) return null
  return notAllowed(
    'not-its-tank',
    'This board may not publish there. Give it the right to this tank where boards are set up, or mend its topic.'
  )
}

const notAllowed = (because: string, reason: string): TopicFault => ({
  code: 'INTAKE_NOT_ALLOWED',
  because,
  reason
})

/**
 * A board may listen to the status of the watch and to the alarm of its own tanks. Nothing else is worth the
 * danger: a listener that stops reading holds up whoever publishes.
 */
export function maySubscribe(ask: Ask, rights: Rights): boolean {
  if (ask.topic === statusTopic) return true
  // A wildcard is no tank's name, so shoal/+/alarm must not reach the question of rights.
  if (!isOwnTopic(ask.topic) || /[+#]/.test(ask.topic)) return false
  return rights.authorizeTopic({ ...ask, tankId: tankOfTopic(ask.topic), way: 'subscribe' })
}
