import { type Hearing, isOverdue, isSilent } from './hearing.ts'
import type { Judged } from './judged.ts'

/** A board that stayed connected to speak, and whether it still is. */
export type BoardLink = Readonly<{ connected: boolean; sinceMs: number }>

/** The reason where the lost connection of the boards told of the cut. */
export const lostBoard = 'board-connection-lost'

/** So long a lost connection may come back before it counts. Common practice, no source. */
const reconnectMs = 60_000

/**
 * Every probe of a tank fell silent at once: at least two of them, or one where the lost connection of its board
 * tells the same. Power or network is gone; the single silences are its effects.
 */
export function judgePowerCut(
  given: Readonly<{
    hearings: readonly Hearing[]
    boards: readonly BoardLink[]
    /** A lost connection had told of this cut before the watch was started anew; no board has come back since. */
    lostBefore?: boolean
    nowMs: number
  }>
): Judged {
  const { hearings, boards, nowMs } = given
  if (hearings.length === 0) return 'cannot-tell'
  if (!hearings.every((hearing) => isOverdue(hearing, nowMs))) return null
  const lastWords = lastWordOfEach(hearings)
  const newestMs = Math.max(...lastWords.map((word) => word.lastHeardMs))
  // A probe that had died long before is no witness of this cut.
  const atOnce = lastWords.filter(
    (word) => word.lastHeardMs >= newestMs - Math.max(2 * word.everyMs, 5 * 60_000)
  )
  const boardsLost =
    boards.length === 0
      ? given.lostBefore === true
      : boards.every((board) => !board.connected && nowMs - board.sinceMs >= reconnectMs)
  const longEnough = atOnce.some((word) => isSilent(word, nowMs)) || boardsLost
  if (!longEnough || (atOnce.length < 2 && !boardsLost)) return null
  return {
    because: boardsLost ? lostBoard : 'all-probes-silent-at-once',
    value: (nowMs - newestMs) / 60_000,
    unit: 'min',
    sinceMs: newestMs,
    facts: { probes: atOnce.map((word) => word.probe).join(', ') }
  }
}

/** One hearing a probe: its quantity that spoke last. */
function lastWordOfEach(hearings: readonly Hearing[]): readonly Hearing[] {
  const last = new Map<string, Hearing>()
  for (const hearing of hearings) {
    const known = last.get(hearing.probe)
    if (known === undefined || hearing.lastHeardMs > known.lastHeardMs) last.set(hearing.probe, hearing)
  }
  return [...last.values()]
}
