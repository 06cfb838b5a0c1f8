import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { guardedRequest, isPublicAddress, outcomeOf } from '../../services/notify/guarded-request.ts'
import { sendPost } from '../../services/notify/post-way.ts'
import { type HttpPeer, never, openHttpPeer, withStatus } from './http-peer.ts'
import { letter } from './letters.ts'
import { post } from './people.ts'

let peer: HttpPeer
beforeEach(async () => {
  peer = await openHttpPeer()
})
afterEach(() => peer.close())

const ask = (url: string, given: Partial<Parameters<typeof guardedRequest>[0]> = {}) =>
  outcomeOf(guardedRequest({ url, method: 'POST', headers: {}, body: 'x', allowPrivate: false, ...given }))

describe('an address that is not on the open internet', () => {
  // Special-purpose address registries of IANA (RFC 6890 and its updates), from memory.
  it.each([
    '127.0.0.1',
    '127.8.8.8',
    '10.1.2.3',
    '172.16.0.1',
    '172.31.255.255',
    '192.168.1.1',
    '169.254.169.254',
    '0.0.0.0',
    '100.64.0.1',
    '224.0.0.1',
    '255.255.255.255',
    '198.18.0.1',
    '::1',
    '::',
    'fe80::1',
    'fc00::1',
    'fd12::1',
    'ff02::1',
    '::ffff:127.0.0.1',
    '::ffff:7f00:1',
    '64:ff9b::7f00:1',
    '2002:7f00:1::',
    'not-an-address'
  ])('%s is told apart', (address) => {
    expect(isPublicAddress(address)).toBe(false)
  })
  it.each([
    '9.9.9.9',
    '172.32.0.1',
    '172.15.255.255',
    '192.167.1.1',
    '100.128.0.1',
    '2620:fe::9',
    '2606:4700::1'
  ])('%s is public', (address) => {
    expect(isPublicAddress(address)).toBe(true)
  })

  // The same machine, written in the ways that fool a check of the text.
  it.each([
    '127.0.0.1',
    'localhost',
    '2130706433',
    '0x7f.1',
    '0177.0.0.1',
    '127.1',
    '[::ffff:127.0.0.1]',
    '0'
  ])('is not called as %s', async (host) => {
    const url = peer.url.replace('127.0.0.1', host)
    expect(await ask(url)).toEqual({ outcome: 'refused', because: 'private-address' })
    expect(peer.heard).toEqual([])
  })
  it('is called where the keeper allows it, by name and by number', async () => {
    expect(await ask(peer.url, { allowPrivate: true })).toMatchObject({ outcome: 'delivered' })
    expect(await ask(peer.url.replace('127.0.0.1', 'localhost'), { allowPrivate: true })).toMatchObject({
      outcome: 'delivered'
    })
    expect(peer.heard.length).toBe(2)
  })
})

describe('what a server answers', () => {
  it.each([
    [200, 'delivered'],
    [201, 'delivered'],
    [202, 'delivered'],
    [204, 'delivered'],
    [400, 'refused'],
    [401, 'refused'],
    [404, 'refused'],
    [410, 'refused'],
    [413, 'refused'],
    [408, 'failed'],
    [425, 'failed'],
    [429, 'failed'],
    [500, 'failed'],
    [502, 'failed'],
    [503, 'failed']
  ])('%i counts as %s', async (status, outcome) => {
    peer.answer(withStatus(status))
    expect(await ask(peer.url, { allowPrivate: true })).toMatchObject({ outcome, because: `http-${status}` })
  })
  it.each([301, 302, 303, 307, 308])('%i is not followed', async (status) => {
    peer.answer(withStatus(status, { location: `${peer.url}/elsewhere` }))
    expect(await ask(peer.url, { allowPrivate: true })).toMatchObject({
      outcome: 'refused',
      because: 'redirects-are-not-followed'
    })
    expect(peer.heard.map(({ path }) => path)).toEqual(['/'])
  })
  it('asks to wait, and is heard', async () => {
    peer.answer(withStatus(429, { 'retry-after': '90' }))
    expect(await ask(peer.url, { allowPrivate: true })).toMatchObject({
      outcome: 'failed',
      retryAfterMs: 90_000
    })
  })
  it('never comes, and is not waited for', async () => {
    peer.answer(never)
    expect(await ask(peer.url, { allowPrivate: true, timeoutMs: 100 })).toEqual({
      outcome: 'failed',
      because: 'no-answer-in-time'
    })
  })
  it('is a broken line', async () => {
    peer.answer((response) => response.destroy())
    expect(await ask(peer.url, { allowPrivate: true })).toEqual({ outcome: 'failed', because: 'econnreset' })
  })
  it('is nobody at all', async () => {
    const gone = await openHttpPeer()
    await gone.close()
    expect(await ask(gone.url, { allowPrivate: true })).toEqual({
      outcome: 'failed',
      because: 'econnrefused'
    })
  })
})

describe('a POST with a template', () => {
  const sent = async (given: Parameters<typeof post>[1], of = letter()) => {
    const way = post(peer.url, given)
    if (way.kind !== 'post') throw new Error('not a post')
    expect(await sendPost(of, way)).toMatchObject({ outcome: 'delivered' })
    const [heard] = peer.heard.splice(0)
    return { text: heard?.body.toString() ?? '', headers: heard?.headers ?? {} }
  }

  it('carries the parts as they are in plain text', async () => {
    const { text, headers } = await sent({
      template: '{{title}}|{{ short }}|{{priority}}|{{link}}|{{unknown}}'
    })
    expect(text).toBe(`${letter().title}|${letter().short}|high|${letter().link}|{{unknown}}`)
    expect(headers['content-type']).toBe('text/plain; charset=utf-8')
  })
  it('stays valid JSON and a valid form, whatever the words are', async () => {
    const nasty = letter({ short: 'He said "no"\n\\ & = %', tankName: '{{link}}' })
    const json = await sent(
      { contentType: 'application/json', template: '{"m":"{{short}}","t":"{{tank}}"}' },
      nasty
    )
    expect(JSON.parse(json.text)).toEqual({ m: nasty.short, t: '{{link}}' })
    const contentType = 'application/x-www-form-urlencoded'
    const form = await sent({ contentType, template: 'm={{short}}&t={{tank}}' }, nasty)
    expect(Object.fromEntries(new URLSearchParams(form.text))).toEqual({ m: nasty.short, t: '{{link}}' })
  })
  it('puts parts into headers without line breaks or foreign signs', async () => {
    const { headers } = await sent(
      { headers: { Title: '{{title}}', Authorization: 'Bearer k' } },
      letter({ title: 'Küche\r\nX-Evil: 1' })
    )
    expect(headers).toMatchObject({ title: 'K che X-Evil: 1', authorization: 'Bearer k' })
    expect(headers['x-evil']).toBeUndefined()
  })
})
