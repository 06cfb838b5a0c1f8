import type Database from 'better-sqlite3'
import type { PlaceAsk } from '../tank/probe-notes.ts'
import { isOutOfJudgement } from '../tank/reading.ts'
import type { ReadingToStore } from '../tank/record.ts'
import type { Channel, Channels } from './channels.ts'
import type { ProbeBook } from './probe-notes.ts'
import { statement } from './statements.ts'

/** So long after a probe was taken out its board may still be talking. Our own choice. */
export const unplugWithinMs = 5 * 60_000

/** Where probes hang: in their tank, or out of it for a stretch of time. */
export type Placements = ReturnType<typeof makePlacements>

export function makePlacements(
  db: Database.Database,
  { book, channels }: Readonly<{ book: ProbeBook; channels: Channels }>
) {
  const takeOut = statement(db, 'INSERT INTO probe_away (probe, from_ms, taken_by) VALUES (?, ?, ?)')
  const putBack = statement(
    db,
    'UPDATE probe_away SET to_ms = max(from_ms, ?), put_by = ? WHERE probe = ? AND to_ms IS NULL'
  )

  /** Where it led, the next probe that is in the tank does; nobody until one is heard. */
  function handOver({ probeId, by, atMs }: PlaceAsk, tankId: string): void {
    const rows = channels.rowsOf(tankId)
    for (const { quantity } of rows.filter((row) => row.probeId === probeId && row.leading === 1)) {
      const next = rows.find((row) => row.quantity === quantity && row.outSinceMs === null)
      if (next === undefined) channels.leadNone(probeId, quantity)
      else lead(next.probeId, { quantity, by, atMs })
    }
  }

  /** Who leads by now goes on; it leads where nobody does. */
  function takeOver(probeId: string, given: Pick<PlaceAsk, 'by' | 'atMs'>, tankId: string): void {
    const rows = channels.rowsOf(tankId)
    for (const { quantity } of rows.filter((row) => row.probeId === probeId)) {
      const leader = rows.find((row) => row.quantity === quantity && row.leading === 1)
      lead(leader?.probeId ?? probeId, { quantity, ...given })
    }
  }

  function lead(
    probeId: string,
    given: Readonly<{ quantity: Channel['quantity']; by: string; atMs: number }>
  ): void {
    book.noteLead({ probeId, fromMs: given.atMs, ...given })
    channels.lead(probeId, given.quantity)
  }

  return {
    placeProbe(ask: PlaceAsk): boolean {
      const { probeId, inTank, by, atMs } = ask
      const { key, tankId } = book.probe(probeId)
      const isOut = channels.rowsOf(tankId).some((row) => row.probeId === probeId && row.outSinceMs !== null)
      if (isOut !== inTank) return false
      if (inTank) putBack.run(atMs, by, key)
      else takeOut.run(key, atMs, by)
      channels.notePlaced(key, inTank ? null : atMs)
      if (inTank) takeOver(probeId, { by, atMs }, tankId)
      else handOver(ask, tankId)
      return true
    },

    /** A good reading from a probe that was out begins a new stretch in the tank; answers whether it did. */
    heard({ channel, reading }: Readonly<{ channel: Channel; reading: ReadingToStore }>): boolean {
      const { outSinceMs, probeKey } = channel
      if (outSinceMs === null || isOutOfJudgement(reading.flag)) return false
      if (Math.min(reading.atMs, reading.arrivedAtMs) < outSinceMs + unplugWithinMs) return false
      putBack.run(reading.atMs, null, probeKey)
      channels.notePlaced(probeKey, null)
      return true
    }
  }
}
