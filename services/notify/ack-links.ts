import { createHash, createHmac } from 'node:crypto'
import type { AckLink, OwedMessage } from '../tank/message.ts'
import type { TankRecord } from '../tank/record.ts'

const dayMs = 86_400_000
const tokenShape = /^[A-Za-z0-9_-]{43}$/

export type AckLinks = Readonly<{
  /** The address that acknowledges this message's alarm; the same for every try of the same message. */
  make: (message: OwedMessage) => Promise<string | null>
  find: (token: string) => Promise<AckLink | null>
  use: (token: string, ask: Readonly<{ atMs: number; from: string }>) => Promise<boolean>
}>

/**
 * Links that acknowledge one alarm, once, within a day of their message. The secret is made from a key that never
 * leaves the house; the record keeps its hash alone, so that a copy of the record acknowledges nothing.
 */
export function makeAckLinks(
  ports: Readonly<{
    record: Pick<TankRecord, 'addAckLink' | 'ackLink' | 'useAckLink'>
    key: () => Buffer
    /** Where others reach this watch; null where nobody does. */
    base: () => string | null
  }>
): AckLinks {
  const { record } = ports
  return {
    make: async (message) => {
      const base = ports.base()
      const { activationId, tankId } = message
      if (base === null || activationId === null || tankId === null) return null
      const token = createHmac('sha256', ports.key()).update(message.id).digest('base64url')
      await record.addAckLink({
        tokenHash: hashOf(token),
        messageId: message.id,
        activationId,
        tankId,
        contactId: message.contactId,
        madeAtMs: message.madeAtMs,
        expiresAtMs: Math.max(message.madeAtMs, message.earliestMs, message.dueAtMs) + dayMs
      })
      return `${base}/a/${token}`
    },
    find: async (token) => (tokenShape.test(token) ? record.ackLink(hashOf(token)) : null),
    use: async (token, { atMs, from }) => record.useAckLink({ tokenHash: hashOf(token), atMs, from })
  }
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex')
