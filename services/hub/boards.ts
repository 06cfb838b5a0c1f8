import type { BoardLink } from '../watch/power-cut.ts'

/** The boards that carry a tank's probes, and whether they are connected. */
export type Boards = Readonly<{
  heard: (word: Readonly<{ clientId: string; probe: string; atMs: number }>) => void
  connection: (change: Readonly<{ clientId: string; connected: boolean; atMs: number }>) => void
  links: () => readonly BoardLink[]
  /** Those that are not connected, to be known again after a restart. */
  lost: () => readonly LostBoard[]
}>

/** A board that stayed connected to speak and is gone since a moment, with the probes it carried. */
export type LostBoard = Readonly<{ clientId: string; sinceMs: number; probes: readonly string[] }>

type Known = { connected: boolean; sinceMs: number; firstWordMs: number | null; stays: boolean }

/** Apart by more than that, two words were not said in one breath. Our own choice. */
const oneBreathMs = 20_000

/**
 * A client that connects, says what it has to say and leaves, as boards do that sleep between, is no board whose
 * leaving tells anything. One that spoke again later in the same connection is.
 */
export function makeBoards(lostBefore: readonly LostBoard[] = []): Boards {
  const known = new Map<string, Known>(
    lostBefore.map(({ clientId, sinceMs }) => [
      clientId,
      { connected: false, sinceMs, firstWordMs: null, stays: true }
    ])
  )
  /** By which board each probe was last heard. */
  const carrier = new Map<string, string>(
    lostBefore.flatMap(({ clientId, probes }) => probes.map((probe) => [probe, clientId] as const))
  )
  const staying = () =>
    [...known].flatMap(([clientId, { stays, connected, sinceMs }]) => {
      const probes = [...carrier].filter(([, by]) => by === clientId).map(([probe]) => probe)
      return stays && probes.length > 0 ? [{ clientId, connected, sinceMs, probes }] : []
    })
  return {
    heard({ clientId, probe, atMs }) {
      carrier.set(probe, clientId)
      const board = known.get(clientId) ?? { connected: true, sinceMs: atMs, firstWordMs: null, stays: false }
      // Who speaks is there, also where nobody told of its return.
      if (!board.connected && atMs > board.sinceMs) Object.assign(board, { connected: true, sinceMs: atMs })
      board.firstWordMs ??= atMs
      if (atMs - board.firstWordMs > oneBreathMs) board.stays = true
      known.set(clientId, board)
    },
    connection({ clientId, connected, atMs }) {
      const board = known.get(clientId)
      if (board === undefined) return
      if (connected) board.firstWordMs = null
      if (!connected && !board.stays) known.delete(clientId)
      board.connected = connected
      board.sinceMs = atMs
    },
    links: () => staying().map(({ clientId: _client, ...link }) => link),
    lost: () =>
      staying().flatMap(({ connected, clientId, sinceMs, probes }) =>
        connected ? [] : [{ clientId, sinceMs, probes }]
      )
  }
}
