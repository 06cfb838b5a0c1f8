import { type Hearing, isGone, isOverdue, isSilent } from './hearing.ts'
import type { Judged } from './judged.ts'

/** A board that stayed connected to speak, whether it still is, and the probes it carries. */
export type BoardLink = Readonly<{ connected: boolean; sinceMs: number; probes: readonly string[] }>

/** The reason where the lost connection of the boards told of the cut. */
export const lostBoard = 'board-connection-lost'
/** The reason where one board is gone with its probes, and others are heard. */
export const oneBoardLost = 'one-board-lost'

/** So long a lost connection may come back before it counts. Common practice, no source. */
const reconnectMs = 60_000

type Given = Readonly<{
  hearings: readonly Hearing[]
  boards: readonly BoardLink[]
  /** Probes of boards that were lost before the watch was started anew; boards themselves are not kept. */
  lostBefore?: readonly string[]
  nowMs: number
}>

/**
 * Every probe of a tank fell silent at once: at least two of them, or one where the lost connection of its board
 * tells the same. Power or network is gone; the single silences are its effects. Where others are heard, but one
 * board is lost with two probes or more, that board is gone: one finding, and not one for each of its probes.
 */
export function judgePowerCut(given: Given): Judged {
  const { nowMs } = given
  if (given.hearings.length === 0) return 'cannot-tell'
  const lost = lostLinks(given)
  const offLine = new Set(lost.flatMap(({ probes }) => probes))
  const hearings = given.hearings.map((one) => (offLine.has(one.probe) ? { ...one, boardLost: true } : one))
  return judgeAll(hearings, nowMs) ?? judgeOneBoard(hearings, lost, nowMs)
}

function judgeAll(hearings: readonly Hearing[], nowMs: number): Judged {
  if (!hearings.every((hearing) => isGone(hearing, nowMs))) return null
  const lastWords = lastWordOfEach(hearings)
  const atOnce = atOnceOf(lastWords)
  const isLost = atOnce.every((word) => word.boardLost === true)
  const isLongEnough =
    atOnce.some((word) => isSilent(word, nowMs)) || (isLost && atOnce.every((word) => isOverdue(word, nowMs)))
  if (!isLongEnough || (atOnce.length < 2 && !isLost)) return null
  return findingOf(isLost ? lostBoard : 'all-probes-silent-at-once', atOnce, nowMs)
}

/** A board with one probe is told by the silence of that probe. */
function judgeOneBoard(hearings: readonly Hearing[], lost: readonly Lost[], nowMs: number): Judged {
  const words = lost.flatMap((board) => {
    const own = hearings.filter(({ probe }) => board.probes.includes(probe))
    const atOnce = atOnceOf(lastWordOfEach(own))
    return atOnce.length > 1 && isMissed(own, board, nowMs) ? atOnce : []
  })
  return words.length === 0 ? null : findingOf(oneBoardLost, words, nowMs)
}

/** Every word of a lost board is overdue, or one of its probes is silent; one that had died before says nothing. */
const isMissed = (own: readonly Hearing[], { sinceMs }: Lost, nowMs: number): boolean =>
  own.every((one) => isOverdue(one, nowMs)) ||
  own.some((one) => isSilent(one, nowMs) && one.lastHeardMs >= sinceMs - 2 * one.everyMs)

/** A probe that had died long before is no witness of what took the others. */
function atOnceOf(words: readonly Hearing[]): readonly Hearing[] {
  const newestMs = Math.max(...words.map((word) => word.lastHeardMs))
  return words.filter((word) => word.lastHeardMs >= newestMs - Math.max(2 * word.everyMs, 5 * 60_000))
}

function findingOf(because: string, words: readonly Hearing[], nowMs: number): Judged {
  const newestMs = Math.max(...words.map((word) => word.lastHeardMs))
  return {
    because,
    value: (nowMs - newestMs) / 60_000,
    unit: 'min',
    sinceMs: newestMs,
    facts: { probes: words.map((word) => word.probe).join(', ') }
  }
}

type Lost = Pick<BoardLink, 'probes' | 'sinceMs'>

/** Boards that have not come back in the time that may take. */
function lostLinks({ boards, lostBefore = [], nowMs }: Given): readonly Lost[] {
  const known = new Set(boards.flatMap(({ probes }) => probes))
  const before = lostBefore.filter((probe) => !known.has(probe))
  return [
    ...boards.filter(({ connected, sinceMs }) => !connected && nowMs - sinceMs >= reconnectMs),
    { probes: before, sinceMs: Number.NEGATIVE_INFINITY }
  ]
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
