import type { ServerResponse } from 'node:http'
import type { LiveEvent } from '../contract/series-view.ts'

type StatusEvent = Extract<LiveEvent, { event: 'status' }>
type Kept = Readonly<{ id: number; event: LiveEvent }>
type Listener = Readonly<{
  response: ServerResponse
  tankId: string | null
  sessionId: string
  tokenHash: string
}>

export type LiveStream = Readonly<{
  tell(event: LiveEvent): void
  /** Takes over a response whose head has been written; sends what was missed, or says that it is lost. */
  join(listener: Listener & Readonly<{ lastEventId: number | null }>): void
  /** One heartbeat: shows every listener that we live, and drops those whose session has ended. */
  beat(): Promise<void>
  /** Sends the present state of the house to all. */
  tellStatus(): Promise<void>
  cutSession(sessionId: string): void
  listeners(): number
  close(): void
}>

const keptEvents = 2000
const mostWaitingBytes = 1_048_576
const mostMissedChars = 262_144
const mostListeners = 200
const reconnectAfterMs = 3000

/**
 * The live stream (Server-Sent Events). Ids grow by one within a run and start above all former runs, so that a
 * page can tell what it missed.
 */
export function makeLiveStream(
  ask: Readonly<{
    /** Above every id that any former run has given. */
    firstId: number
    status: () => Promise<StatusEvent>
    isAlive: (tokenHash: string) => Promise<boolean>
  }>
): LiveStream {
  const listeners = new Set<Listener>()
  let kept: Kept[] = []
  let lastId = ask.firstId

  function drop(listener: Listener): void {
    listeners.delete(listener)
    listener.response.destroy()
  }
  function write(listener: Listener, text: string): void {
    const { response } = listener
    if (response.destroyed || response.writableEnded) return
    response.write(text)
    // Who does not read piles up memory here: he comes back and resumes.
    if (response.writableLength > mostWaitingBytes) drop(listener)
  }
  const isFor = (listener: Listener, event: LiveEvent): boolean =>
    listener.tankId === null || !('tankId' in event.data) || event.data.tankId === listener.tankId

  /** What this listener missed, as text for the wire. */
  function missed(listener: Listener, lastEventId: number | null): string {
    if (lastEventId === null) return `id: ${lastId}\n\n`
    const oldestKnown = (kept[0]?.id ?? lastId + 1) - 1
    if (lastEventId > lastId) return resync('unknown-id', lastId)
    if (lastEventId < oldestKnown) return resync('too-long-ago', lastId)
    const text = kept
      .filter(({ id, event }) => id > lastEventId && isFor(listener, event))
      .map(({ id, event }) => frame(event, id))
      .join('')
    // Sent at once, more than this would look like a listener that does not read.
    return text.length <= mostMissedChars ? text : resync('too-much', lastId)
  }

  async function tellStatus(): Promise<void> {
    if (listeners.size === 0) return
    const status = frame(await ask.status(), null)
    for (const listener of [...listeners]) write(listener, status)
  }

  return {
    tell: (event) => {
      lastId += 1
      kept.push({ id: lastId, event })
      if (kept.length > keptEvents * 1.5) kept = kept.slice(-keptEvents)
      const text = frame(event, lastId)
      for (const listener of [...listeners]) if (isFor(listener, event)) write(listener, text)
    },
    join: ({ lastEventId, ...listener }) => {
      for (const oldest of listeners) {
        if (listeners.size < mostListeners) break
        drop(oldest)
      }
      listeners.add(listener)
      listener.response.on('close', () => listeners.delete(listener))
      listener.response.on('error', () => drop(listener))
      write(listener, `retry: ${reconnectAfterMs}\n\n${missed(listener, lastEventId)}`)
      ask
        .status()
        .then((status) => write(listener, frame(status, null)))
        .catch(() => drop(listener))
    },
    beat: async () => {
      for (const listener of [...listeners]) {
        if (await ask.isAlive(listener.tokenHash)) write(listener, ': beat\n\n')
        else drop(listener)
      }
      await tellStatus()
    },
    tellStatus,
    cutSession: (sessionId) => {
      for (const listener of [...listeners]) if (listener.sessionId === sessionId) drop(listener)
    },
    listeners: () => listeners.size,
    close: () => {
      for (const { response } of listeners) response.end()
      listeners.clear()
    }
  }
}

/** One event on the wire. Data is one line of JSON, which knows no line break of its own. */
function frame(event: LiveEvent, id: number | null): string {
  const head = id === null ? '' : `id: ${id}\n`
  return `${head}event: ${event.event}\ndata: ${JSON.stringify(event.data)}\n\n`
}

/** Tells a listener that what it missed is lost: it must ask for everything again. */
const resync = (reason: string, id: number): string => frame({ event: 'resync', data: { reason } }, id)
