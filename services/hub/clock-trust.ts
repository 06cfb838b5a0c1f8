const minuteMs = 60_000

/** One look at both clocks of the machine: the one on the wall, and the one that only ever counts on. */
export type ClockLook = Readonly<{ wallMs: number; monotonicMs: number }>

export type ClockBecause =
  | 'plausible'
  | 'before-what-is-known'
  | 'just-started'
  | 'set'
  | 'synchronised'
  | 'nobody-set-it'
  | 'waited-long-enough'
  | 'set-back-too-far'

/** What is thought of the machine's own clock, and the time of the house that follows from it. */
export type ClockState = Readonly<{
  trusted: boolean
  because: ClockBecause
  /** House time at `since`, from where it counts on while the clock is not trusted. */
  floorMs: number
  since: ClockLook
  last: ClockLook
  /** What the house adds to the clock on the wall once it has waited long enough for a better one. */
  offsetMs: number
}>

/** What is known before the first look. */
export type ClockStart = Readonly<{
  look: ClockLook
  /** The last sign of life in the record. */
  lastAliveMs: number | null
  /** When this program was made: no true time lies before. */
  builtAtMs: number
  /** Whether the machine has been started anew since that sign of life. */
  isNewBoot: boolean
  upForMs: number
  isSynchronised: boolean
}>

/** Clocks drift and minutes are whole: so much is no contradiction. */
const toleranceMs = minuteMs
/** A wall clock that moves otherwise than time itself by more than this was set, or the machine slept. */
const jumpMs = 5000
/** So long after a start of the machine its time may still be the one it went to sleep with. */
const settlesWithinMs = 10 * minuteMs
/** So long the house waits for a better time than one that cannot be right. */
const longestWaitMs = 60 * minuteMs

/**
 * Whether the clock can be believed at the start. A machine without a battery behind its clock wakes with the time
 * it went to sleep with, or an earlier one.
 */
export function startClock(start: ClockStart): ClockState {
  const { look, lastAliveMs, builtAtMs } = start
  const knownMs = Math.max(lastAliveMs ?? Number.NEGATIVE_INFINITY, builtAtMs)
  const base = { since: look, last: look, offsetMs: 0 }
  // A time server knows better than a record that was once written under a clock that ran ahead.
  if (start.isSynchronised && look.wallMs >= builtAtMs - toleranceMs)
    return { trusted: true, because: 'synchronised', floorMs: look.wallMs, ...base }
  if (look.wallMs < knownMs - toleranceMs)
    return { trusted: false, because: 'before-what-is-known', floorMs: knownMs, ...base }
  const asIfNeverOff = lastAliveMs !== null && look.wallMs - lastAliveMs < start.upForMs + settlesWithinMs
  if (start.isNewBoot && asIfNeverOff && start.upForMs < settlesWithinMs)
    return { trusted: false, because: 'just-started', floorMs: look.wallMs, ...base }
  return { trusted: true, because: 'plausible', floorMs: look.wallMs, ...base }
}

/** The time of the house at a look. */
export const houseTimeMs = (state: ClockState, look: ClockLook): number =>
  state.trusted
    ? look.wallMs + state.offsetMs
    : state.floorMs + Math.max(0, look.monotonicMs - state.since.monotonicMs)

/** What is thought of the clock after another look at it. */
export function stepClock(
  state: ClockState,
  look: ClockLook,
  told: Readonly<{ isSynchronised: boolean; builtAtMs: number }>
): ClockState {
  const movedMs = look.wallMs - state.last.wallMs - (look.monotonicMs - state.last.monotonicMs)
  const jumped = Math.abs(movedMs) > jumpMs
  const next = { ...state, last: look }
  if (state.trusted) return jumped ? stepTrusted(next, look, told.builtAtMs, state) : next
  const houseMs = houseTimeMs(state, look)
  const isPossible = look.wallMs >= houseMs - toleranceMs
  if (jumped && isPossible) return trust(next, 'set', 0)
  if (told.isSynchronised && look.wallMs >= told.builtAtMs - toleranceMs)
    return trust(next, 'synchronised', 0)
  const waitedMs = look.monotonicMs - state.since.monotonicMs
  if (state.because === 'just-started')
    return waitedMs >= settlesWithinMs ? trust(next, 'nobody-set-it', 0) : next
  return waitedMs >= longestWaitMs ? trust(next, 'waited-long-enough', houseMs - look.wallMs) : next
}

function stepTrusted(next: ClockState, look: ClockLook, builtAtMs: number, before: ClockState): ClockState {
  // Whoever sets a running clock means it, unless what comes out cannot be a time of ours.
  if (look.wallMs >= builtAtMs - toleranceMs) return { ...next, because: 'set', offsetMs: 0 }
  const floorMs = houseTimeMs(before, before.last)
  return { ...next, trusted: false, because: 'set-back-too-far', floorMs, since: look, offsetMs: 0 }
}

const trust = (state: ClockState, because: ClockBecause, offsetMs: number): ClockState => ({
  ...state,
  trusted: true,
  because,
  offsetMs
})
