import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { makePasswordHashing } from '../../services/api/password-hash.ts'
import { hashOfSecret } from '../../services/api/secret-token.ts'
import { type House, openTestHouse, password, setupCode } from './open-house.ts'

let house: House
beforeAll(async () => {
  house = await openTestHouse()
})
afterAll(() => house.close())

const logIn = (given = password, from = '127.0.0.1', cookie: string | null = null) =>
  house.ask('POST', '/api/session', { body: { password: given }, from, cookie })

describe('a session', () => {
  it('opens with the right password and is known afterwards', async () => {
    const { status, cookie, headers } = await logIn()
    expect(status).toBe(201)
    // RFC 6265 attributes; Secure is absent because this is plain HTTP.
    const set = String(headers['set-cookie'])
    expect(set).toContain('HttpOnly')
    expect(set).toContain('SameSite=Strict')
    expect(set).toContain('Path=/')
    expect(set).not.toContain('Secure')
    const me = await house.ask('GET', '/api/me', { cookie })
    expect(me.body).toMatchObject({ role: 'keeper', label: 'keeper', setupDone: true })
  })

  it('carries at least 128 random bits, of which the record keeps only the hash', async () => {
    const { cookie } = await logIn()
    const token = cookie?.split('=')[1] ?? ''
    expect(Buffer.from(token, 'base64url').length).toBeGreaterThanOrEqual(16)
    const stored = await house.record.sessions()
    expect(JSON.stringify(stored)).not.toContain(token)
    expect(stored.map((session) => session.tokenHash)).toContain(hashOfSecret(token))
  })

  it('never adopts a cookie that was planted before the log-in', async () => {
    const planted = 'shoal-session=plantedplantedplantedplantedplantedplanted'
    const { cookie } = await logIn(password, '127.0.0.1', planted)
    expect(cookie).not.toBe(planted)
    expect((await house.ask('GET', '/api/tanks', { cookie: planted })).status).toBe(401)
  })

  it('gets a new secret at each log-in, and the old one of the same browser ends', async () => {
    const first = await logIn()
    const second = await logIn(password, '127.0.0.1', first.cookie)
    expect(second.cookie).not.toBe(first.cookie)
    expect((await house.ask('GET', '/api/tanks', { cookie: first.cookie })).status).toBe(401)
    expect((await house.ask('GET', '/api/tanks', { cookie: second.cookie })).status).toBe(200)
  })

  it('cannot be replayed after logging out', async () => {
    const { cookie } = await logIn()
    expect((await house.ask('DELETE', '/api/session', { cookie })).status).toBe(204)
    expect((await house.ask('GET', '/api/tanks', { cookie })).body).toMatchObject({ code: 'API_NO_SESSION' })
  })

  it('can be revoked from another device', async () => {
    const phone = await logIn()
    const id = (phone.body as { id: string }).id
    const desk = await logIn()
    expect((await house.ask('DELETE', `/api/tablets/${id}`, { cookie: desk.cookie })).status).toBe(204)
    expect((await house.ask('GET', '/api/tanks', { cookie: phone.cookie })).status).toBe(401)
    expect((await house.ask('DELETE', `/api/tablets/${id}`, { cookie: desk.cookie })).status).toBe(404)
  })

  it('of a keeper ends after thirty days unseen, and lives on while it is used', async () => {
    const own = await openTestHouse()
    const used = await own.enter('keeper')
    const left = await own.enter('keeper')
    for (let day = 0; day < 40; day += 1) {
      own.clock.nowMs += 86_400_000
      await own.ask('GET', '/api/tanks', { cookie: used })
    }
    expect((await own.ask('GET', '/api/tanks', { cookie: used })).status).toBe(200)
    expect((await own.ask('GET', '/api/tanks', { cookie: left })).status).toBe(401)
    await own.close()
  })

  it('uses a locked cookie name and Secure behind an HTTPS address', async () => {
    const own = await openTestHouse({
      config: {
        httpHost: null,
        mqttHost: null,
        keeperPassword: password,
        publicUrl: 'https://tank.example.org'
      }
    })
    const headers = { host: 'tank.example.org' }
    const { headers: sent } = await own.ask('POST', '/api/session', { body: { password }, headers })
    const set = String(sent['set-cookie'])
    expect(set).toContain('__Host-shoal-session=')
    expect(set).toContain('Secure')
    expect(set).toContain('Path=/')
    expect(set).not.toContain('Domain')
    await own.close()
  })
})

describe('guessing', () => {
  it('makes the device wait after five failures, and no other device', async () => {
    const from = '192.0.2.7'
    for (let tried = 0; tried < 5; tried += 1)
      expect((await logIn('wrong guess', from)).body).toMatchObject({ code: 'API_WRONG_PASSWORD' })
    const refused = await logIn(password, from)
    expect(refused.status).toBe(429)
    expect(refused.body).toMatchObject({ code: 'API_TOO_MANY_TRIES' })
    expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0)
    expect((await logIn(password, '192.0.2.8')).status).toBe(201)
    house.clock.nowMs += 31_000
    expect((await logIn(password, from)).status).toBe(201)
  })

  it('gets at most five guesses through when a thousand come at once', async () => {
    const from = '192.0.2.9'
    const answers = await Promise.all(Array.from({ length: 1000 }, () => logIn('wrong guess', from)))
    expect(answers.filter((answer) => answer.status === 401).length).toBeLessThanOrEqual(5)
    expect(answers.filter((answer) => answer.status === 429).length).toBeGreaterThanOrEqual(995)
  })

  it('counts a household of IPv6 addresses as one device', async () => {
    for (let tried = 0; tried < 5; tried += 1) await logIn('wrong guess', `2001:db8:1:2::${tried + 1}`)
    expect((await logIn(password, '2001:db8:1:2:ffff::1')).status).toBe(429)
    expect((await logIn(password, '2001:db8:1:3::1')).status).toBe(201)
  })

  it('waits longer with each further failure', async () => {
    const from = '192.0.2.10'
    const waits: number[] = []
    for (let tried = 0; tried < 8; tried += 1) {
      await logIn('wrong guess', from)
      const { headers } = await logIn('wrong guess', from)
      if (headers['retry-after'] === undefined) continue
      const seconds = Number(headers['retry-after'])
      waits.push(seconds)
      house.clock.nowMs += seconds * 1000
    }
    expect(waits.length).toBeGreaterThan(2)
    expect(waits).toEqual([...waits].sort((one, other) => one - other))
    expect(waits.at(-1)).toBeGreaterThan(waits[0] ?? 0)
  })
})

describe('the first set-up', () => {
  it('takes the code from the console once and no password that everyone tries', async () => {
    const own = await openTestHouse({ isSetUp: false })
    const setUp = (body: object) => own.ask('POST', '/api/setup', { body })
    expect((await own.ask('GET', '/api/me')).body).toMatchObject({ setupDone: false, role: null })
    expect((await own.ask('POST', '/api/session', { body: { password: 'admin' } })).status).toBe(409)
    expect((await setUp({ code: 'WRONG-CODE', password })).body).toMatchObject({ code: 'API_WRONG_CODE' })
    for (const weak of ['password1', '12345678', 'aaaaaaaa', 'qwertyuiop', 'Shoalkeeper2026!'])
      expect((await setUp({ code: setupCode, password: weak })).status, weak).toBe(422)
    const done = await setUp({
      code: setupCode.toLowerCase().replace('-', ' '),
      password,
      settings: { temperatureUnit: 'degF' }
    })
    expect(done.status).toBe(201)
    expect((await own.ask('GET', '/api/settings', { cookie: done.cookie })).body).toMatchObject({
      temperatureUnit: 'degF'
    })
    expect((await setUp({ code: setupCode, password })).body).toMatchObject({ code: 'API_SETUP_DONE' })
    await own.close()
  })

  it('is won by one of two that come at the same moment', async () => {
    const own = await openTestHouse({ isSetUp: false })
    const both = await Promise.all(
      ['first password here', 'second password here'].map((word) =>
        own.ask('POST', '/api/setup', { body: { code: setupCode, password: word } })
      )
    )
    expect(both.map((answer) => answer.status).sort()).toEqual([201, 409])
    await own.close()
  })

  it('is not needed where the environment gave the password, which later starts do not change', async () => {
    const own = await openTestHouse()
    const later = await openTestHouse({
      record: own.record,
      config: { httpHost: null, mqttHost: null, keeperPassword: 'another one entirely', publicUrl: null }
    })
    expect(later.api.needsSetup()).toBe(false)
    expect((await later.ask('POST', '/api/session', { body: { password } })).status).toBe(201)
    await later.close()
    await own.close()
  })

  it('closes a code that is guessed at from many addresses', async () => {
    const own = await openTestHouse({ isSetUp: false })
    for (let address = 1; address <= 51; address += 1)
      await own.ask('POST', '/api/setup', { body: { code: 'WRONG', password }, from: `192.0.2.${address}` })
    const right = await own.ask('POST', '/api/setup', {
      body: { code: setupCode, password },
      from: '192.0.2.99'
    })
    expect(right.body).toMatchObject({ code: 'API_WRONG_CODE' })
    await own.close()
  })
})

describe('a stored password', () => {
  it('is a scrypt hash with the full cost in it, and long Unicode is not cut', async () => {
    const hashing = makePasswordHashing()
    const long = `${'ä'.repeat(64)} end`
    const stored = await hashing.hash(long)
    expect(stored.split('$').slice(0, 4)).toEqual(['scrypt', '17', '8', '1'])
    expect(await hashing.verify(long, stored)).toBe(true)
    expect(await hashing.verify(long.slice(0, -1), stored)).toBe(false)
    expect(await hashing.verify(long.normalize('NFD'), stored)).toBe(true)
  })

  it('agrees with the published test vector of scrypt', async () => {
    // RFC 7914 section 12, third vector: "pleaseletmein", "SodiumChloride", N=16384, r=8, p=1; first 32 bytes.
    const key = '7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2'
    const stored = [
      'scrypt',
      14,
      8,
      1,
      Buffer.from('SodiumChloride').toString('base64'),
      Buffer.from(key, 'hex').toString('base64')
    ].join('$')
    expect(await makePasswordHashing().verify('pleaseletmein', stored)).toBe(true)
    expect(await makePasswordHashing().verify('pleaseletmeout', stored)).toBe(false)
  })

  it('that is damaged opens nothing', async () => {
    const hashing = makePasswordHashing({ logN: 4 })
    for (const stored of ['', 'scrypt', 'scrypt$99$8$1$AA==$AA==', 'plain$password', 'scrypt$4$8$1$AA==$'])
      expect(await hashing.verify('', stored), stored).toBe(false)
  })
})
