import type { LiveEvent } from '../../services/contract/series-view.ts'
import { makeStreamReader } from './event-stream.ts'

export type LiveState = 'connecting' | 'open' | 'lost' | 'no-session'
export type Live = Readonly<{
  /** Tries at once: the network has just come back. */
  hurry(): void
  close(): void
}>
export type LiveNeeds = Readonly<{
  path: string
  fetchFrom: typeof fetch
  onEvent(event: LiveEvent): void
  /** Anything at all came over the wire, a heartbeat too. */
  onWord(): void
  onState(state: LiveState): void
  /** Called each time the stream opens again after it was lost: what was missed must be fetched. */
  onReopened(): void
}>

const shortestWaitMs = 1_000
const longestWaitMs = 15_000
const silenceMs = 45_000

/**
 * Listens to the live stream for ever: comes back by itself with the last id, and gives up a stream that has
 * been silent for longer than its heartbeat allows. Read through fetch, because the browser's own reader hides
 * heartbeats and gives up for good on an error page.
 */
export function openLive(needs: LiveNeeds): Live {
  let isClosed = false
  let lastId: string | null = null
  let wasLost = false
  let waitMs = shortestWaitMs
  let current: AbortController | null = null
  let wake: (() => void) | null = null

  async function listen(): Promise<void> {
    const hearing = new AbortController()
    current = hearing
    let watchdog = setTimeout(() => hearing.abort(), silenceMs)
    const heard = (): void => {
      clearTimeout(watchdog)
      watchdog = setTimeout(() => hearing.abort(), silenceMs)
      needs.onWord()
    }
    try {
      const answer = await needs.fetchFrom(needs.path, {
        headers: { accept: 'text/event-stream', ...(lastId === null ? {} : { 'last-event-id': lastId }) },
        signal: hearing.signal,
        credentials: 'same-origin'
      })
      if (answer.status === 401) return needs.onState('no-session')
      if (!answer.ok || answer.body === null) return
      needs.onState('open')
      if (wasLost) needs.onReopened()
      wasLost = false
      waitMs = shortestWaitMs
      heard()
      const read = makeStreamReader(
        (event) => {
          const live = parseLive(event.event, event.data)
          if (live !== null) needs.onEvent(live)
        },
        (id) => {
          lastId = id
        }
      )
      const pieces = answer.body.pipeThrough(new TextDecoderStream()).getReader()
      for (;;) {
        const { done, value } = await pieces.read()
        if (done) return
        heard()
        read(value)
      }
    } catch {
      // Any break of the line is the same to us: come back.
    } finally {
      clearTimeout(watchdog)
      hearing.abort()
    }
  }

  async function keepListening(): Promise<void> {
    while (!isClosed) {
      await listen()
      if (isClosed) return
      wasLost = true
      needs.onState('lost')
      await new Promise<void>((resume) => {
        const timer = setTimeout(resume, waitMs)
        wake = () => {
          clearTimeout(timer)
          resume()
        }
      })
      wake = null
      waitMs = Math.min(waitMs * 1.7, longestWaitMs)
    }
  }

  needs.onState('connecting')
  void keepListening()
  return {
    hurry: () => wake?.(),
    close() {
      isClosed = true
      current?.abort()
      wake?.()
    }
  }
}

/** An event of the stream, or null for what cannot be read: a broken message never stops the page. */
export function parseLive(event: string, data: string): LiveEvent | null {
  try {
    const body: unknown = JSON.parse(data)
    if (typeof body !== 'object' || body === null) return null
    return { event, data: body } as LiveEvent
  } catch {
    return null
  }
}
