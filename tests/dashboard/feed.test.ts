import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Answer } from '../../dashboard/feed/client.ts'
import { makeClient } from '../../dashboard/feed/client.ts'
import { makeStreamReader, type StreamEvent } from '../../dashboard/feed/event-stream.ts'
import { parseLive } from '../../dashboard/feed/live.ts'
import { makeOutbox, type Parcel } from '../../dashboard/feed/outbox.ts'

function read(pieces: readonly string[]): { events: StreamEvent[]; ids: string[] } {
  const events: StreamEvent[] = []
  const ids: string[] = []
  const take = makeStreamReader(
    (event) => events.push(event),
    (id) => ids.push(id)
  )
  for (const piece of pieces) take(piece)
  return { events, ids }
}
const dataOf = (text: string): string[] => read([text]).events.map(({ data }) => data)

describe('the event stream', () => {
  // The examples of WHATWG HTML, section 9.2.6 "Interpreting an event stream".
  test('lines of data are joined', () => {
    expect(dataOf('data: YHOO\ndata: +2\ndata: 10\n\n')).toEqual(['YHOO\n+2\n10'])
  })
  test('comments are skipped, ids are kept, an empty id takes the old one away', () => {
    const { events } = read([
      ': test stream\n\ndata: first event\nid: 1\n\ndata:second event\nid\n\ndata:  third event\n\n'
    ])
    expect(events.map(({ data }) => data)).toEqual(['first event', 'second event', ' third event'])
    expect(events.map(({ id }) => id)).toEqual(['1', '', ''])
  })
  test('an empty line of data is an event, an unfinished block is none', () => {
    expect(dataOf('data\n\ndata\ndata\n\ndata:')).toEqual(['', '\n'])
  })
  test('one space after the colon is optional', () => {
    expect(dataOf('data:test\n\ndata: test\n\n')).toEqual(['test', 'test'])
  })
  test('an id without data is kept for coming back', () => {
    expect(read(['retry: 3000\n\nid: 41\n\n'])).toEqual({ events: [], ids: ['41'] })
  })
  test('where the wire cuts the text makes no difference', () => {
    const text = 'id: 7\r\nevent: reading\r\ndata: {"a":"ü"}\r\n\r\n: beat\n\nevent: status\rdata: 1\r\r'
    const whole = read([text]).events
    expect(whole).toHaveLength(2)
    fc.assert(
      fc.property(fc.array(fc.nat(text.length), { maxLength: 12 }), (cuts) => {
        const sorted = [0, ...cuts.toSorted((a, b) => a - b), text.length]
        const pieces = sorted.slice(1).map((end, index) => text.slice(sorted[index], end))
        expect(read(pieces).events).toEqual(whole)
      })
    )
  })
  test('a broken message is dropped and never stops the page', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const live = parseLive('reading', text)
        expect(live === null || typeof live.data === 'object').toBe(true)
      })
    )
    expect(parseLive('reading', '{"value":')).toBeNull()
    expect(parseLive('reading', 'null')).toBeNull()
  })
})

describe('the client', () => {
  const answering = (status: number, body: string, type = 'application/json') =>
    makeClient(
      async () => new Response(status === 204 ? null : body, { status, headers: { 'content-type': type } })
    )
  test('a refusal keeps the words of the house', async () => {
    const problem = {
      type: 'x',
      title: 'x',
      status: 422,
      code: 'API_BAD_INPUT',
      detail: 'pH lies between 0 and 14'
    }
    expect(await answering(422, JSON.stringify(problem)).get('/x')).toEqual({ kind: 'refused', problem })
  })
  test('an empty success is a success', async () => {
    expect(await answering(204, '').send('DELETE', '/x')).toEqual({ kind: 'done', value: null })
  })
  test('a gateway that speaks HTML means that the house was not reached', async () => {
    expect(await answering(502, '<html>', 'text/html').get('/x')).toEqual({ kind: 'away' })
  })
  test('a broken line means that the house was not reached', async () => {
    const client = makeClient(async () => {
      throw new TypeError('failed to fetch')
    })
    expect(await client.get('/x')).toEqual({ kind: 'away' })
  })
})

describe('entries made while the house is away', () => {
  const parcel = (clientKey: string): Parcel => ({
    clientKey,
    path: '/t',
    body: { n: clientKey },
    label: clientKey
  })
  function desk(first: Answer<{ id: string }>['kind'] = 'away') {
    let mood: Answer<{ id: string }>['kind'] = first
    let status = 422
    const stored = new Map<string, string>()
    const log: string[] = []
    let shelf: readonly Parcel[] = []
    const outbox = makeOutbox({
      post: async (_path, body) => {
        const { clientKey } = body as { clientKey: string }
        log.push(clientKey)
        if (mood === 'away') return { kind: 'away' }
        if (mood === 'refused')
          return { kind: 'refused', problem: { type: '', title: '', status, code: 'X', detail: 'no' } }
        stored.set(clientKey, `id-${clientKey}`)
        return { kind: 'done', value: { id: `id-${clientKey}` } }
      },
      shelf: {
        load: () => shelf,
        save: (next) => {
          shelf = next
        }
      },
      onChange: () => undefined,
      onDelivered: ({ id }) => log.push(`delivered ${id}`),
      onRefused: ({ problem }) => log.push(`refused ${problem.detail}`)
    })
    return {
      outbox,
      stored,
      log,
      be: (next: typeof mood, code = 422) => {
        mood = next
        status = code
      },
      shelf: () => shelf
    }
  }
  test('wait in the page, are sent in order once the house is back, and once only', async () => {
    const { outbox, stored, log, be, shelf } = desk()
    await outbox.send(parcel('a'))
    await outbox.send(parcel('b'))
    expect(shelf().map(({ clientKey }) => clientKey)).toEqual(['a', 'b'])
    be('done')
    await Promise.all([outbox.flush(), outbox.flush()])
    await outbox.flush()
    expect([...stored.keys()]).toEqual(['a', 'b'])
    expect(log.filter((line) => line.startsWith('delivered'))).toEqual(['delivered id-a', 'delivered id-b'])
    expect(outbox.waiting()).toEqual([])
  })
  test('stay while nobody is logged in, and leave with a word when the house refuses them', async () => {
    const { outbox, log, be } = desk()
    await outbox.send(parcel('a'))
    be('refused', 401)
    await outbox.flush()
    expect(outbox.waiting()).toHaveLength(1)
    be('refused', 422)
    await outbox.flush()
    expect(outbox.waiting()).toHaveLength(0)
    expect(log.at(-1)).toBe('refused no')
  })
  test('can be taken back before they have left', async () => {
    const { outbox, stored, be } = desk()
    await outbox.send(parcel('a'))
    expect(outbox.withdraw('a')).toBe(true)
    expect(outbox.withdraw('a')).toBe(false)
    be('done')
    await outbox.flush()
    expect(stored.size).toBe(0)
  })
})
