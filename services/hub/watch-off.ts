/** A time in which nobody watched: the machine was without power, asleep, or the program was stopped. */
export type WatchOff = Readonly<{ fromMs: number; toMs: number }>

const minuteMs = 60_000
/** A restart takes less; only what is longer is worth a word. */
const worthTellingMs = 3 * minuteMs
/** So long the wall says it. */
const shownForMs = 24 * 60 * minuteMs
const mostKept = 50

/** The gap since the last sign of life; null where there is none to speak of, or the clock was set back. */
export function gapSince(lastAliveMs: number | null, nowMs: number): WatchOff | null {
  if (lastAliveMs === null || nowMs - lastAliveMs <= worthTellingMs) return null
  return { fromMs: lastAliveMs, toMs: nowMs }
}

/** The newest gap that ended within a day. */
export function watchOffNow(gaps: readonly WatchOff[], nowMs: number): WatchOff | null {
  const newest = gaps.at(-1)
  return newest !== undefined && nowMs >= newest.toMs && nowMs - newest.toMs < shownForMs ? newest : null
}

/** The list of gaps with one more; the oldest go. */
export const withGap = (gaps: readonly WatchOff[], gap: WatchOff): readonly WatchOff[] =>
  [...gaps, gap].slice(-mostKept)
