import { createECDH, createPublicKey, verify } from 'node:crypto'
import { createRequire } from 'node:module'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { PushWay } from '../../services/notify/contact.ts'
import { makePushKeys, makePushSend, pushPayload, pushSubject } from '../../services/notify/push-way.ts'
import { type HttpPeer, never, openHttpPeer, withStatus } from './http-peer.ts'
import { letter } from './letters.ts'
import { appendixA, decryptPush, receiverFrom } from './rfc8291.ts'

/** The very package that web-push encrypts with. */
const ofWebPush = createRequire(createRequire(import.meta.url).resolve('web-push'))
const ece = ofWebPush('http_ece') as { encrypt: (text: Buffer, given: object) => Buffer }

const keys = makePushKeys()
const receiver = createECDH('prime256v1')
receiver.generateKeys()
const auth = Buffer.from(appendixA.auth, 'base64url')

/** A push service double: takes what RFC 8030 says a push service takes. */
let service: HttpPeer
beforeEach(async () => {
  service = await openHttpPeer()
  service.answer(withStatus(201))
})
afterEach(() => service.close())

const ports = { keys: () => keys, subject: () => 'https://tank.example.org' }
const send = makePushSend(ports)
const way = (given: Partial<PushWay['subscription']['keys']> = {}): PushWay => ({
  id: 'push',
  kind: 'push',
  subscription: {
    endpoint: `${service.url}/push/abc`,
    keys: { p256dh: receiver.getPublicKey('base64url'), auth: appendixA.auth, ...given }
  },
  allowPrivate: true
})

describe('the encryption of RFC 8291', () => {
  it('our reader of it reads the example of Appendix A', () => {
    const body = Buffer.from(appendixA.body, 'base64url')
    expect(decryptPush(body, receiverFrom(appendixA.receiverPrivate), auth)).toBe(appendixA.plaintext)
  })

  it('what the product encrypts with writes the example of Appendix A, byte for byte', () => {
    const sender = receiverFrom(appendixA.senderPrivate)
    const body = ece.encrypt(Buffer.from(appendixA.plaintext), {
      version: 'aes128gcm',
      privateKey: sender,
      dh: receiverFrom(appendixA.receiverPrivate).getPublicKey('base64url'),
      salt: Buffer.from(appendixA.salt, 'base64url'),
      authSecret: appendixA.auth
    })
    expect(body.toString('base64url')).toBe(appendixA.body)
  })

  it('a letter arrives at a push service as the browser will read it', async () => {
    expect(await send(letter(), way())).toEqual({ outcome: 'delivered', because: 'http-201' })
    const [heard] = service.heard
    expect(heard?.headers).toMatchObject({
      'content-encoding': 'aes128gcm',
      'content-type': 'application/octet-stream',
      ttl: '21600',
      urgency: 'high'
    })
    expect(heard?.headers['content-length']).toBe(String(heard?.body.length))
    expect(JSON.parse(decryptPush(heard?.body ?? Buffer.alloc(0), receiver, auth))).toEqual({
      id: letter().id,
      title: letter().title,
      body: letter().short,
      priority: 'high',
      url: letter().link,
      page: '/#/alarm/kitchen/a1',
      tag: 'a1'
    })
    expect((heard?.body.length ?? 0) < 4096).toBe(true)
  })

  it('never writes the link where a lock screen shows it', () => {
    const { title, body } = JSON.parse(pushPayload(letter()))
    expect(`${title} ${body}`).not.toMatch(/token|http/)
  })
})

describe('the voluntary identification of RFC 8292', () => {
  it('is a token of ES256 for this push service, signed with the key it names', async () => {
    await send(letter(), way())
    const header = String(service.heard[0]?.headers.authorization)
    const [, token = '', k = ''] = /^vapid t=([^,]+), ?k=(.+)$/.exec(header) ?? []
    expect(k).toBe(keys.publicKey)
    const [head = '', claims = '', signature = ''] = token.split('.')
    const parsed = JSON.parse(Buffer.from(claims, 'base64url').toString())
    expect(JSON.parse(Buffer.from(head, 'base64url').toString())).toMatchObject({ alg: 'ES256' })
    expect(parsed).toMatchObject({ aud: service.url, sub: 'https://tank.example.org' })
    // Section 2: no more than 24 hours ahead.
    expect(parsed.exp * 1000 - Date.now()).toBeLessThanOrEqual(86_400_000)
    const point = Buffer.from(k, 'base64url')
    const [x, y] = [point.subarray(1, 33), point.subarray(33)].map((part) => part.toString('base64url'))
    const key = createPublicKey({ format: 'jwk', key: { kty: 'EC', crv: 'P-256', x: x ?? '', y: y ?? '' } })
    const signed = Buffer.from(`${head}.${claims}`)
    const given = { key, dsaEncoding: 'ieee-p1363' as const }
    expect(verify('sha256', signed, given, Buffer.from(signature, 'base64url'))).toBe(true)
  })
})

describe('whom a push service may ask about the watch', () => {
  it.each([
    ['a watch behind HTTPS', 'https://tank.example.org', /^https:/],
    ['a watch on plain HTTP', 'http://tank.example.org', /^mailto:/],
    ['a watch without a public address', null, /^mailto:/]
  ])('%s', async (_name, publicUrl, shape) => {
    const subject = pushSubject(publicUrl)
    expect(subject).toMatch(shape)
    const sendAs = makePushSend({ keys: () => keys, subject: () => subject, timeoutMs: 5000 })
    expect(await sendAs(letter(), way())).toEqual({ outcome: 'delivered', because: 'http-201' })
  })
})

describe('a push service that answers', () => {
  it.each([
    [201, { outcome: 'delivered', because: 'http-201' }],
    [404, { outcome: 'refused', because: 'subscription-gone', wayIsGone: true }],
    [410, { outcome: 'refused', because: 'subscription-gone', wayIsGone: true }],
    [413, { outcome: 'refused', because: 'http-413' }],
    [429, { outcome: 'failed', because: 'http-429', retryAfterMs: 30_000 }],
    [503, { outcome: 'failed', because: 'http-503', retryAfterMs: 30_000 }]
  ])('%i', async (status, expected) => {
    service.answer(withStatus(status, status === 429 || status === 503 ? { 'retry-after': '30' } : {}))
    const result = await send(letter(), way())
    expect(JSON.parse(JSON.stringify(result))).toEqual(expected)
  })

  it('never', async () => {
    service.answer(never)
    const impatient = makePushSend({ ...ports, timeoutMs: 200 })
    expect(await impatient(letter(), way())).toEqual({ outcome: 'failed', because: 'no-answer-in-time' })
  })

  it('is not asked where the browser’s keys are no keys', async () => {
    expect(await send(letter(), way({ p256dh: 'AAAA' }))).toMatchObject({
      outcome: 'refused',
      wayIsGone: true
    })
    expect(service.heard).toEqual([])
  })
})
