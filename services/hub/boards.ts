import type { BoardLink } from '../watch/power-cut.ts'

/** The boards that carry a tank's probes, and whether they are connected. */
export type Boards = Readonly<{
  heard: (clientId: string, atMs: number) => void
  connection: (change: Readonly<{ clientId: string; connected: boolean; atMs: number }>) => void
  links: () => readonly BoardLink[]
}>

type Known = { connected: boolean; sinceMs: number; wordsThisTime: number; stays: boolean }

/**
 * A client that connects, says one thing and leaves is no board: its leaving tells nothing. One that spoke at
 * least twice in a connection is.
 */
export function makeBoards(): Boards {
  const known = new Map<string, Known>()
  return {
    heard(clientId, atMs) {
      const board = known.get(clientId) ?? { connected: true, sinceMs: atMs, wordsThisTime: 0, stays: false }
      board.wordsThisTime += 1
      if (board.wordsThisTime >= 2) board.stays = true
      known.set(clientId, board)
    },
    connection({ clientId, connected, atMs }) {
      const board = known.get(clientId)
      if (board === undefined) return
      if (connected) board.wordsThisTime = 0
      if (!connected && !board.stays) known.delete(clientId)
      board.connected = connected
      board.sinceMs = atMs
    },
    links: () =>
      [...known.values()].flatMap(({ stays, connected, sinceMs }) => (stays ? [{ connected, sinceMs }] : []))
  }
}
