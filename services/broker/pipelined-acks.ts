import type { IPublishPacket, MqttClient } from 'mqtt'
import { makeAckOrder } from './ack-order.ts'

type Send = (packet: Readonly<{ cmd: string; messageId?: number }>, done?: (error?: Error) => void) => void
type Inside = { _sendPacket?: Send }

/** More messages than this on their way to the disk, and the line is read no further until some are kept. */
const mostOnTheWay = 512

/**
 * Makes a client acknowledge each message once `keep` has resolved, in the order in which they came. The library
 * itself handles one message after the other, which would cost one commit each; so it is told at once to go on,
 * its own acknowledgement is held back, and ours follows. That rests on one inner function of the library: where
 * a version of it has none, messages are kept one by one, slower but no less safely.
 */
export function acknowledgeWhenKept(
  client: MqttClient,
  given: Readonly<{ keep: (packet: IPublishPacket) => Promise<void>; failed: (cause: Error) => void }>
): void {
  const inside = client as unknown as Inside
  const send = inside._sendPacket?.bind(client)
  const order = makeAckOrder()
  const held: (() => void)[] = []
  let onTheWay = 0
  let isOver = false
  client.once('close', () => {
    isOver = true
  })

  if (send !== undefined)
    inside._sendPacket = (packet, done) => {
      if (packet.cmd === 'puback') done?.()
      else send(packet, done)
    }

  function finish(packet: IPublishPacket, error: Error | null): void {
    if (isOver) return
    if (error !== null) {
      // Nothing after this one may be acknowledged either: the broker sends it again with the next connection.
      isOver = true
      given.failed(error)
      return
    }
    if (packet.qos === 1 && packet.messageId !== undefined)
      send?.({ cmd: 'puback', messageId: packet.messageId })
  }

  client.handleMessage = (packet, goOn) => {
    const answer = order.hold(client, (error) => finish(packet, error ?? null))
    onTheWay += 1
    const settled = (error: Error | null): void => {
      onTheWay -= 1
      answer(error)
      held.shift()?.()
      if (send === undefined) goOn(error ?? undefined)
    }
    given.keep(packet).then(
      () => settled(null),
      (cause: unknown) => settled(cause instanceof Error ? cause : new Error(String(cause)))
    )
    if (send === undefined) return
    if (onTheWay <= mostOnTheWay) goOn()
    else held.push(() => goOn())
  }
}
