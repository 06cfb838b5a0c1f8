/** The topics on which the watch itself speaks. Boards may listen to them and never publish there. */
export const statusTopic = 'shoal/status'
export const alarmTopic = (tankId: string): string => `shoal/${tankId}/alarm`

const ownAlarm = /^shoal\/([^/]+)\/alarm$/

export const isOwnTopic = (topic: string): boolean => topic === statusTopic || ownAlarm.test(topic)

/** The tank that a topic of our scheme speaks of; null for the status of the house and for foreign topics. */
export function tankOfTopic(topic: string): string | null {
  const [root, tankId, ...rest] = topic.split('/')
  return root === 'shoal' && tankId !== undefined && rest.length > 0 ? tankId : null
}

/** More levels than our scheme could ever need; a tree of thousands is an attack on whoever matches topics. */
export const mostTopicLevels = 10
export const levelsOf = (topic: string): number => topic.split('/').length
