import { makeNewestKept } from './newest-kept.ts'

export type Delivery = Readonly<{
  dup: boolean
  /** null for QoS 0, which is never sent again. */
  packetId: number | null
  clientId: string
  sessionId: string
  payloadHash: string
}>

/** A message on its way to the disk, or already there. */
type Held = { hash: string; durable: boolean; waiters: ((durable: boolean) => void)[] }

export type Receipt =
  | Readonly<{ kind: 'first'; settle: (durable: boolean) => void }>
  /** Answers true once the first delivery is on disk, false if it never got there and must be sent again. */
  | Readonly<{ kind: 'again'; durable: Promise<boolean> }>

/**
 * Knows a message that a board sends again because its acknowledgement got lost: same session, client and
 * packet id, marked DUP, same topic and payload. A packet id without DUP is a new message: ids are reused.
 */
export function makeRedeliveryWatch(most: Readonly<{ sessions: number; messagesEach: number }>) {
  const sessions = makeNewestKept<ReturnType<typeof makeNewestKept<Held>>>(most.sessions)
  return {
    receive(delivery: Delivery): Receipt {
      if (delivery.packetId === null) return { kind: 'first', settle: () => undefined }
      const sessionKey = `${delivery.clientId}\n${delivery.sessionId}`
      const messages = sessions.get(sessionKey) ?? makeNewestKept<Held>(most.messagesEach)
      sessions.set(sessionKey, messages)
      const key = String(delivery.packetId)
      const held = messages.get(key)
      if (delivery.dup && held?.hash === delivery.payloadHash)
        return {
          kind: 'again',
          durable: held.durable
            ? Promise.resolve(true)
            : new Promise((resolve) => {
                held.waiters.push(resolve)
              })
        }
      const fresh: Held = { hash: delivery.payloadHash, durable: false, waiters: [] }
      messages.set(key, fresh)
      return { kind: 'first', settle: (durable) => settle(fresh, durable) }
    }
  }

  function settle(held: Held, durable: boolean): void {
    held.durable = durable
    // What never reached the disk must not stop its own next delivery.
    if (!durable) held.hash = ''
    for (const tell of held.waiters.splice(0)) tell(durable)
  }
}
