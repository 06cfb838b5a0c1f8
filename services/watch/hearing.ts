import type { Quantity } from '../tank/quantity.ts'

const minuteMs = 60_000

/** When a probe was last heard on one quantity, and how often it speaks. */
export type Hearing = Readonly<{
  probe: string
  quantity: Quantity
  /** Arrival of its last word, or since when anybody has been listening, whichever is later. */
  lastHeardMs: number
  everyMs: number
  /** The board that carries it stays connected to speak, and has lost its connection for good. */
  boardLost?: boolean
}>

/** A probe counts as silent after three of its intervals, and never before a minute and a half. */
export const silentAfterMs = (everyMs: number): number => Math.max(3 * everyMs, 1.5 * minuteMs)

/** From when on a word is overdue: a little over one interval after the last. */
export const overdueFromMs = (hearing: Hearing): number =>
  hearing.lastHeardMs + 1.25 * hearing.everyMs + 15_000

/** Whether a word that should have come by now did not. */
export const isOverdue = (hearing: Hearing, nowMs: number): boolean => nowMs > overdueFromMs(hearing)

/** Whether nothing is to be heard of it: overdue, or on a board that is gone. */
export const isGone = (hearing: Hearing, nowMs: number): boolean =>
  hearing.boardLost === true || isOverdue(hearing, nowMs)

export const isSilent = (hearing: Hearing, nowMs: number): boolean =>
  nowMs - hearing.lastHeardMs > silentAfterMs(hearing.everyMs)
