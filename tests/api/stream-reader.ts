import { type ClientRequest, get, type IncomingMessage } from 'node:http'

export type Heard = Readonly<{ id: number | null; event: string; data: Record<string, unknown> }>
export type Stream = Readonly<{
  status: number
  headers: IncomingMessage['headers']
  heard: Heard[]
  /** Everything as it came, comments too. */
  text: () => string
  lastId: () => number | null
  isClosed: () => boolean
  close: () => void
  /** Stops reading, as a sleeping tablet does. */
  pause: () => void
  resume: () => void
}>

/** Polls a condition, for five seconds at most. */
export async function until(holds: () => boolean, what = 'the condition'): Promise<void> {
  for (let turn = 0; turn < 500; turn += 1) {
    if (holds()) return
    await new Promise((resolve) => setTimeout(resolve, 10))
  }
  throw new Error(`${what} did not come true within five seconds`)
}

/** Opens a live stream over a real socket on 127.0.0.1, read by the rules of the WHATWG standard 9.2.6. */
export function openStream(
  ask: Readonly<{ port: number; path?: string; headers: Record<string, string> }>
): Promise<Stream> {
  return new Promise((resolve, reject) => {
    const request: ClientRequest = get(
      {
        host: '127.0.0.1',
        port: ask.port,
        path: ask.path ?? '/api/live',
        headers: ask.headers,
        agent: false
      },
      (response) => resolve(read(request, response))
    )
    request.on('error', reject)
  })
}

function read(request: ClientRequest, response: IncomingMessage): Stream {
  const heard: Heard[] = []
  let text = ''
  let rest = ''
  let lastId: number | null = null
  let closed = false
  response.setEncoding('utf8')
  response.on('data', (piece: string) => {
    text += piece
    const blocks = (rest + piece).split('\n\n')
    rest = blocks.pop() ?? ''
    for (const block of blocks) take(block)
  })
  response.on('close', () => {
    closed = true
  })
  response.on('error', () => undefined)

  function take(block: string): void {
    const fields = new Map(
      block
        .split('\n')
        .filter((line) => !line.startsWith(':'))
        .map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)])
    )
    const id = fields.get('id')
    if (id !== undefined) lastId = Number(id)
    const data = fields.get('data')
    if (data === undefined) return
    heard.push({
      id: id === undefined ? null : Number(id),
      event: fields.get('event') ?? 'message',
      data: JSON.parse(data) as Record<string, unknown>
    })
  }

  return {
    status: response.statusCode ?? 0,
    headers: response.headers,
    heard,
    text: () => text,
    lastId: () => lastId,
    isClosed: () => closed,
    close: () => {
      response.destroy()
      request.destroy()
    },
    pause: () => response.pause(),
    resume: () => response.resume()
  }
}
