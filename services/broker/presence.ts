import type { Client } from 'aedes'
import type { BrokerOptions, Connection, LeftBecause } from './broker-port.ts'
import type { Link } from './link.ts'

type Present = Readonly<{ client: Client; link: Link; connectedAtMs: number }>

/** Who is on the line, and the news of who came and went. */
export function makePresence(options: Pick<BrokerOptions, 'onConnectionChange'>, nowMs: () => number) {
  const present = new Map<string, Present>()

  function tell(client: Client, link: Link, why: 'connected' | LeftBecause): void {
    options.onConnectionChange({
      clientId: client.id,
      boardName: link.boardName,
      address: link.address,
      connected: why === 'connected',
      why,
      atMs: nowMs()
    })
  }

  return {
    came(client: Client, link: Link): void {
      present.set(client.id, { client, link, connectedAtMs: nowMs() })
      tell(client, link, 'connected')
    },
    left(client: Client): void {
      const found = present.get(client.id)
      if (found?.client !== client) return
      present.delete(client.id)
      tell(client, found.link, found.link.leftBecause)
    },
    holderOf(clientId: string) {
      const found = present.get(clientId)
      if (found === undefined) return undefined
      return {
        boardName: found.link.boardName,
        replace: () => {
          found.link.leftBecause = 'replaced'
        }
      }
    },
    markAll(why: LeftBecause): void {
      for (const { link } of present.values()) link.leftBecause = why
    },
    list: (): readonly Connection[] =>
      Array.from(present.values(), ({ client, link, connectedAtMs }) => ({
        clientId: client.id,
        boardName: link.boardName,
        address: link.address,
        connectedAtMs
      }))
  }
}
