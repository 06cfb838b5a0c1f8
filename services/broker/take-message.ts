import { createHash } from 'node:crypto'
import type { Client, PublishPacket } from 'aedes'
import { makeAckOrder } from './ack-order.ts'
import type { BrokerMessage, BrokerOptions, BrokerRefusal } from './broker-port.ts'
import type { Link } from './link.ts'
import { publishFault } from './topic-gate.ts'
import { withDeadline } from './with-deadline.ts'

type Setting = Readonly<{
  options: BrokerOptions
  linkOf: (client: Client) => Link
  nowMs: () => number
}>

/**
 * Takes the messages of boards. This is the broker's authorisation hook, because it is the only one that runs
 * before the acknowledgement and can wait: whoever stores in a later hook has acknowledged already.
 */
export function makeMessageTaker({ options, linkOf, nowMs }: Setting) {
  const order = makeAckOrder()
  const ackTimeoutMs = options.ackTimeoutMs ?? 10_000

  function tellRefused(refusal: BrokerRefusal): void {
    try {
      options.onRefused(refusal)
    } catch (error) {
      options.log.error({ error: String(error) }, 'A refusal could not be noted.')
    }
  }

  return (client: Client | null, packet: PublishPacket, done: (error?: Error | null) => void): void => {
    // A packet from nobody or from someone who has left is a last will.
    if (client === null || client.closed) {
      done(new Error('a last will is not a reading'))
      return
    }
    const link = linkOf(client)
    const message = messageOf(packet, { clientId: client.id, link, arrivedAtMs: nowMs() })
    swallow(packet)
    const answer = order.hold(client, done)
    const fault = publishFault(message, options)
    if (fault !== null) {
      options.log.debug({ clientId: client.id, because: fault.because }, 'A message was refused.')
      tellRefused({ message, fault })
      answer(null)
      return
    }
    withDeadline(() => options.onMessage(message), ackTimeoutMs).then(
      () => answer(null),
      (error: unknown) => {
        options.log.warn({ clientId: client.id, error: String(error) }, 'A message could not be kept yet.')
        link.leftBecause = 'not-kept'
        answer(error instanceof Error ? error : new Error(String(error)))
      }
    )
  }
}

function messageOf(
  packet: PublishPacket,
  from: Readonly<{ clientId: string; link: Link; arrivedAtMs: number }>
): BrokerMessage {
  const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload
  return {
    topic: packet.topic,
    payload,
    arrivedAtMs: from.arrivedAtMs,
    qos: packet.qos,
    retained: packet.retain,
    dup: packet.dup,
    packetId: packet.qos === 0 ? null : (packet.messageId ?? null),
    clientId: from.clientId,
    sessionId: from.link.sessionId,
    boardName: from.link.boardName,
    payloadHash:
      packet.qos === 0
        ? ''
        : createHash('sha256').update(packet.topic).update('\0').update(payload).digest('base64url')
  }
}

/**
 * What a board says goes to the record and to nobody else. Once acknowledged, the packet would still be handed
 * to listeners and kept as retained; what is left of it has no listener, no content, and is not kept.
 */
function swallow(packet: PublishPacket): void {
  packet.topic = 'taken'
  packet.payload = Buffer.alloc(0)
  packet.retain = false
}
