import type { Heartbeat } from './address-book.ts'
import { guardedRequest, outcomeOf } from './guarded-request.ts'
import { outcomeWords } from './outcome-words.ts'

const minuteMs = 60_000

export type HeartbeatState = Readonly<{
  lastTryMs: number | null
  lastOkMs: number | null
  lastFault: string | null
}>

/** Whether the outside is to be told now that the watch is alive. */
export const isHeartbeatDue = (heartbeat: Heartbeat, state: HeartbeatState, nowMs: number): boolean =>
  // A clock that was set back must not hush it for hours.
  state.lastTryMs === null || Math.abs(nowMs - state.lastTryMs) >= heartbeat.everyMinutes * minuteMs - 1000

/**
 * Tells an outside service that the watch is alive, and only while it is well: that service raises the alarm once
 * nothing comes any more. What the watch cannot do when it is down, somebody else must.
 */
export function makeHeart(
  ports: Readonly<{
    heartbeat: () => Heartbeat | null
    isWell: () => Promise<boolean>
    clock: () => number
  }>
) {
  let state: HeartbeatState = { lastTryMs: null, lastOkMs: null, lastFault: null }
  return {
    state: () => state,
    forget: () => {
      state = { lastTryMs: null, lastOkMs: null, lastFault: null }
    },
    async beat(): Promise<void> {
      const heartbeat = ports.heartbeat()
      const nowMs = ports.clock()
      if (heartbeat === null || !isHeartbeatDue(heartbeat, state, nowMs)) return
      if (!(await ports.isWell())) {
        state = { ...state, lastFault: 'The watch itself is not well, so it is silent on purpose.' }
        return
      }
      state = { ...state, lastTryMs: nowMs }
      const result = await outcomeOf(
        guardedRequest({
          url: heartbeat.url,
          method: 'POST',
          headers: { 'content-type': 'text/plain' },
          body: '',
          allowPrivate: heartbeat.allowPrivate
        })
      )
      state =
        result.outcome === 'delivered'
          ? { lastTryMs: nowMs, lastOkMs: nowMs, lastFault: null }
          : { ...state, lastFault: outcomeWords(result) }
    }
  }
}
