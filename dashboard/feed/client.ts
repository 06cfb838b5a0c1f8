import type { Problem } from '../../services/contract/house-entry.ts'

/** What came of a request: its value, a refusal in words, or that the house could not be reached. */
export type Answer<T> =
  | Readonly<{ kind: 'done'; value: T }>
  | Readonly<{ kind: 'refused'; problem: Problem }>
  | Readonly<{ kind: 'away' }>

/** What was made, by the id it got. */
export type Made = Readonly<{ id: string }>

export type Client = Readonly<{
  get<T>(path: string): Promise<Answer<T>>
  send<T>(
    method: 'POST' | 'PUT' | 'PATCH' | 'DELETE',
    path: string,
    body?: unknown,
    waitMs?: number
  ): Promise<Answer<T>>
}>

const patienceMs = 12_000

/** What is known of an answer before it is asked; undefined for nothing. */
type Foreknown = (path: string, method: string) => unknown

/** Asks the house over HTTP. A refusal arrives as problem details and stays in the words of the house. */
export function makeClient(fetchFrom: typeof fetch, foreknown: Foreknown = () => undefined): Client {
  async function ask<T>(
    path: string,
    init: RequestInit & Readonly<{ method: string }>,
    waitMs = patienceMs
  ): Promise<Answer<T>> {
    const known = foreknown(path, init.method)
    if (known !== undefined) return { kind: 'done', value: known as T }
    const waiting = new AbortController()
    const timer = setTimeout(() => waiting.abort(), waitMs)
    try {
      const answer = await fetchFrom(path, { ...init, signal: waiting.signal, credentials: 'same-origin' })
      const text = await answer.text()
      const body: unknown = text === '' ? null : parsed(text)
      if (answer.ok) return { kind: 'done', value: body as T }
      if (isProblem(body)) return { kind: 'refused', problem: body }
      // A gateway in between speaks HTML: the house itself was not reached.
      if (answer.status >= 502 && answer.status <= 504) return { kind: 'away' }
      return { kind: 'refused', problem: plainProblem(answer.status) }
    } catch {
      return { kind: 'away' }
    } finally {
      clearTimeout(timer)
    }
  }
  return {
    get: (path) => ask(path, { method: 'GET', headers: { accept: 'application/json' } }),
    send: (method, path, body, waitMs) =>
      ask(
        path,
        {
          method,
          headers: {
            accept: 'application/json',
            ...(body === undefined ? {} : { 'content-type': 'application/json' })
          },
          ...(body === undefined ? {} : { body: JSON.stringify(body) })
        },
        waitMs
      )
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

const isProblem = (body: unknown): body is Problem =>
  typeof body === 'object' && body !== null && 'code' in body && 'detail' in body

const plainProblem = (status: number): Problem => ({
  type: 'about:blank',
  title: '',
  status,
  code: 'API_FAILED',
  detail: ''
})
