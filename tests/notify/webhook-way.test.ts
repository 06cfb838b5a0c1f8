import { execFileSync } from 'node:child_process'
import { HTTP } from 'cloudevents'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { WebhookWay } from '../../services/notify/contact.ts'
import { makeWebhookSend, signatureOf } from '../../services/notify/webhook-way.ts'
import { type HttpPeer, openHttpPeer, withStatus } from './http-peer.ts'
import { letter } from './letters.ts'

let peer: HttpPeer
beforeEach(async () => {
  peer = await openHttpPeer()
})
afterEach(() => peer.close())

const nowMs = Date.parse('2026-11-25T01:10:07.900Z')
const secret = 'a secret with ümlaut 0123456789'
const way = (): WebhookWay => ({
  id: 'w',
  kind: 'webhook',
  url: `${peer.url}/hook`,
  secret,
  allowPrivate: true
})
const send = makeWebhookSend({ source: () => 'https://tank.example.org', clock: () => nowMs })
const heardOne = () => {
  const [one] = peer.heard
  if (one === undefined) throw new Error('nothing came')
  return one
}

/** HMAC of Python's standard library: another implementation of RFC 2104. */
function pythonHmac(key: string, text: string): string {
  const program =
    'import hmac,hashlib,json,sys;k,t=json.load(sys.stdin);print(hmac.new(k.encode(),t.encode(),hashlib.sha256).hexdigest())'
  return execFileSync('python3', ['-c', program], { input: JSON.stringify([key, text]) })
    .toString()
    .trim()
}

describe('a webhook', () => {
  it('is a CloudEvents 1.0 event that the CloudEvents SDK reads and finds valid', async () => {
    expect(await send(letter(), way())).toMatchObject({ outcome: 'delivered' })
    const { headers, body } = heardOne()
    expect(headers['content-type']).toBe('application/cloudevents+json; charset=utf-8')
    const event = HTTP.toEvent({ headers: headers as never, body: body.toString() })
    if (Array.isArray(event)) throw new Error('more than one event')
    expect((event as unknown as { validate: () => boolean }).validate()).toBe(true)
    expect(event).toMatchObject({
      specversion: '1.0',
      id: letter().id,
      source: 'https://tank.example.org',
      type: 'org.shoalkeeper.alarm.raised',
      subject: 'kitchen/a1',
      time: '2026-11-25T01:10:00.000Z',
      severitytext: 'HIGH',
      data: { short: letter().short, alarm: { kind: 'water-cold', finding: { value: 19.8 } } }
    })
  })

  it('is signed over time and body, as Python computes it', async () => {
    await send(letter(), way())
    const { headers, body } = heardOne()
    const [, t, v1] = /^t=(\d+),v1=([0-9a-f]{64})$/.exec(String(headers['shoalkeeper-signature'])) ?? []
    expect(t).toBe(String(Math.floor(nowMs / 1000)))
    expect(v1).toBe(pythonHmac(secret, `${t}.${body.toString()}`))
    expect(v1).not.toBe(pythonHmac(secret, `${Number(t) + 1}.${body.toString()}`))
    expect(v1).not.toBe(pythonHmac(secret, `${t}.${body.toString()} `))
    expect(v1).not.toBe(pythonHmac(`${secret}x`, `${t}.${body.toString()}`))
  })

  it('has the HMAC of RFC 4231, test case 2', () => {
    // Key "Jefe", data "what do ya want for nothing?"; here the time and its dot belong to the data.
    const [atS, body] = [1, 'x']
    expect(signatureOf({ secret: 'Jefe', atS, body })).toBe(`t=1,v1=${pythonHmac('Jefe', '1.x')}`)
    expect(pythonHmac('Jefe', 'what do ya want for nothing?')).toBe(
      '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843'
    )
  })

  it('is the same event at each try, so that a receiver knows a repeat', async () => {
    peer.answer(withStatus(503))
    expect(await send(letter(), way())).toMatchObject({ outcome: 'failed' })
    await send(letter(), way())
    const [first, second] = peer.heard.map(({ body }) => JSON.parse(body.toString()))
    expect(first).toEqual(second)
  })

  it('of a trial is one of its own type without a subject', async () => {
    await send(letter({ sort: 'test', alarm: null, tankId: null, tankName: '' }), way())
    const event = JSON.parse(heardOne().body.toString())
    expect(event).toMatchObject({ type: 'org.shoalkeeper.test', data: { alarm: null, tank: null } })
    expect('subject' in event).toBe(false)
  })

  it('does not go into the home network unless the keeper allows it', async () => {
    expect(await send(letter(), { ...way(), allowPrivate: false })).toEqual({
      outcome: 'refused',
      because: 'private-address'
    })
    expect(peer.heard).toEqual([])
  })
})
