import { networkInterfaces } from 'node:os'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { permissions } from '../../services/api/permissions.ts'
import { type House, openTestHouse, password } from './open-house.ts'

let house: House
let cookie: string
beforeAll(async () => {
  house = await openTestHouse()
  cookie = await house.enter('keeper')
})
afterAll(() => house.close())

const codeWith = async (headers: Record<string, string>, method = 'GET', url = '/api/tanks') =>
  (await house.ask(method, url, { cookie, headers })).body as { code?: string }

describe('the Host of a request', () => {
  const own = Object.values(networkInterfaces())
    .flat()
    .find((one) => one !== undefined && !one.internal && one.family === 'IPv4')?.address
  const known = [
    'localhost',
    'LOCALHOST:4680',
    '127.0.0.1:4680',
    '[::1]:4680',
    '127.0.0.1',
    ...(own ? [own] : [])
  ]
  for (const host of known)
    it(`may be ${host === own ? 'this machine’s own address' : host}`, async () => {
      expect((await codeWith({ host })).code).toBeUndefined()
    })

  // What a page sends whose name was pointed at a home address (DNS rebinding; OWASP ASVS 5.0, 4.4).
  const foreign = [
    'evil.example',
    'evil.example:4680',
    'localhost.evil.example',
    '127.0.0.1.evil.example',
    'localhost@evil.example',
    'localhost:4680, evil.example',
    '192.168.77.77:4680',
    '8.8.8.8',
    '[fe80::1234]:4680'
  ]
  for (const host of foreign)
    it(`may not be ${host}`, async () => {
      const { status, body } = await house.ask('GET', '/healthz', { headers: { host } })
      expect(status).toBe(403)
      expect(body).toMatchObject({ code: 'API_UNKNOWN_HOST', status: 403 })
    })

  it('may be an address of the home network once that was let in, and never a public one', async () => {
    const open = await openTestHouse({
      config: { httpHost: '0.0.0.0', mqttHost: null, keeperPassword: password, publicUrl: null }
    })
    const code = async (host: string) => (await open.ask('GET', '/healthz', { headers: { host } })).status
    expect(await code('192.168.77.77:4680')).toBe(200)
    expect(await code('10.1.2.3')).toBe(200)
    expect(await code('[fd00::5]:4680')).toBe(200)
    expect(await code('172.32.0.1')).toBe(403)
    expect(await code('8.8.8.8')).toBe(403)
    expect(await code('evil.example')).toBe(403)
    await open.close()
  })

  it('may be the host of PUBLIC_URL', async () => {
    const open = await openTestHouse({
      config: {
        httpHost: null,
        mqttHost: null,
        keeperPassword: password,
        publicUrl: 'https://tank.example.org'
      }
    })
    expect((await open.ask('GET', '/healthz', { headers: { host: 'tank.example.org' } })).status).toBe(200)
    await open.close()
  })
})

describe('a request from a foreign page', () => {
  const changing = Object.keys(permissions).filter((row) => !row.startsWith('GET '))
  const foreign: readonly Record<string, string>[] = [
    { origin: 'https://evil.example' },
    { origin: 'http://localhost:8080' },
    { origin: 'null' },
    { origin: 'http://localhost:4680.evil.example' },
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
    { origin: 'http://localhost:4680', 'sec-fetch-site': 'cross-site' }
  ]
  for (const row of changing)
    it(`changes nothing through ${row}`, async () => {
      const [method = '', path = ''] = row.split(' ')
      for (const headers of foreign)
        expect(
          await codeWith(headers, method, path.replace(/:\w+/g, 'x')),
          JSON.stringify(headers)
        ).toMatchObject({
          code: 'API_FOREIGN_ORIGIN'
        })
    })

  it('opens no live stream', async () => {
    for (const headers of foreign)
      expect(await codeWith(headers, 'GET', '/api/live')).toMatchObject({ code: 'API_FOREIGN_ORIGIN' })
  })

  it('may read what it cannot see anyway, and our own page may change things', async () => {
    expect((await codeWith({ origin: 'https://evil.example' })).code).toBeUndefined()
    const own = { origin: 'http://localhost:4680', 'sec-fetch-site': 'same-origin' }
    expect((await house.ask('PUT', '/api/settings', { cookie, headers: own, body: {} })).status).toBe(200)
  })

  it('passes without either header, because then it comes from no browser', async () => {
    expect((await house.ask('PUT', '/api/settings', { cookie, body: {} })).status).toBe(200)
  })

  it('cannot send a form, whatever it calls its content', async () => {
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x'
    ]) {
      const { status, body } = await house.ask('POST', '/api/session', {
        raw: '{"password":"x"}',
        headers: { 'content-type': type }
      })
      expect(status, type).toBe(415)
      expect(body).toMatchObject({ code: 'API_WRONG_TYPE' })
    }
  })

  it('changes nothing by a GET', async () => {
    const before = await house.record.settings()
    for (const row of Object.keys(permissions))
      if (row.startsWith('GET ') && row !== 'GET /api/live')
        await house.ask('GET', (row.split(' ')[1] ?? '').replace(/:\w+/g, 'x'), { cookie })
    expect(await house.record.settings()).toEqual(before)
    expect(await house.record.tanks({ archived: true })).toEqual([])
    expect(house.desk.heard).toEqual([])
  })
})
