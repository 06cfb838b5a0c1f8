import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { LinkUse } from '../../services/hub/alert-port.ts'
import { type AlertsDouble, makeAlertsDouble, openLinkView } from './alerts-double.ts'
import { type House, openTestHouse } from './open-house.ts'

let house: House
let alerts: AlertsDouble
beforeEach(async () => {
  alerts = makeAlertsDouble()
  house = await openTestHouse({ alerts })
})
afterEach(() => house.close())

/** As a browser sends the button of a page without scripts. */
const press = (token: string, headers: Readonly<Record<string, string>> = {}) =>
  house.ask('POST', `/a/${token}`, {
    raw: '',
    from: '192.168.1.7',
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      origin: 'http://localhost:4680',
      'sec-fetch-site': 'same-origin',
      ...headers
    }
  })

describe('the page behind a link', () => {
  it('needs no session and no script, and shows what is wrong and what to do', async () => {
    const { status, text, headers } = await house.ask('GET', '/a/good')
    expect(status).toBe(200)
    expect(headers['content-type']).toBe('text/html; charset=utf-8')
    for (const part of [
      'The water is cold.',
      'Since 02:10.',
      'Is the heater plugged in?',
      '<form method="post">'
    ])
      expect(text).toContain(part)
    expect(text).not.toMatch(/<script|style=|\son[a-z]+=/)
    expect(text).toContain('Kitchen &lt;b&gt;')
  })

  it('changes nothing by being looked at, by GET, HEAD, or a scanner that does so ten times', async () => {
    for (let scan = 0; scan < 10; scan++) await house.ask(scan % 2 === 0 ? 'GET' : 'HEAD', '/a/good')
    expect(alerts.used).toEqual([])
    expect(house.desk.acted).toEqual([])
  })

  it('acknowledges by its button, and tells from where', async () => {
    const { status, text } = await press('good')
    expect([status, text.includes('Noted')]).toEqual([200, true])
    expect(alerts.used).toEqual(['good 192.168.1.7'])
  })

  it('is not kept by a browser, not listed by a search engine, and tells its address to no other site', async () => {
    const { headers } = await house.ask('GET', '/a/good')
    expect(headers).toMatchObject({
      'cache-control': 'no-store',
      'x-robots-tag': 'noindex',
      'referrer-policy': 'same-origin',
      'x-content-type-options': 'nosniff'
    })
    expect(headers['content-security-policy']).toContain("script-src 'self'")
  })

  it.each([
    ['done', 200],
    ['used', 410],
    ['expired', 410],
    ['wrong-state', 409],
    ['unknown', 404]
  ] as const)('says plainly when the button came to "%s"', async (use, status) => {
    alerts.link.use = use as LinkUse
    const answer = await press('good')
    expect(answer.status).toBe(status)
    expect(answer.text).toMatch(/<h1>.+<\/h1>\s*<p>.+<\/p>/)
  })

  it.each(['used', 'expired', 'seen'] as const)('has no button once it is %s', async (state) => {
    alerts.link.view = { ...openLinkView, state }
    expect((await house.ask('GET', '/a/good')).text).not.toContain('<form')
  })

  it('of an unknown secret is 404, and the button does nothing', async () => {
    expect((await house.ask('GET', '/a/guess')).status).toBe(404)
    expect((await press('guess')).status).toBe(404)
  })

  it('is not pressed by another web page', async () => {
    for (const headers of [
      { origin: 'https://evil.example', 'sec-fetch-site': 'cross-site' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' }
    ])
      expect((await press('good', headers)).status).toBe(403)
    expect(alerts.used).toEqual([])
  })

  it('takes a form there and nowhere else', async () => {
    const form = { 'content-type': 'application/x-www-form-urlencoded' }
    const answer = await house.ask('POST', '/api/session', { raw: 'password=x', headers: form })
    expect(answer.body).toMatchObject({ code: 'API_WRONG_TYPE' })
  })

  it('opens nothing else: the secret is no session', async () => {
    for (const path of ['/api/alarms', '/api/tanks', '/api/messages'])
      expect(
        (await house.ask('GET', `${path}?token=good`, { headers: { authorization: 'Bearer good' } })).status
      ).toBe(401)
  })

  it('shows the friend the card', async () => {
    alerts.link.view = { ...openLinkView, cardLines: ['Feed: nothing.'] }
    expect((await house.ask('GET', '/a/good')).text).toContain('<li>Feed: nothing.</li>')
  })

  it('has its own style sheet', async () => {
    const { status, headers, text } = await house.ask('GET', '/a/page.css')
    expect([status, headers['content-type']]).toEqual([200, 'text/css; charset=utf-8'])
    expect(text).toContain('min-height:4rem')
  })
})
