import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Answer, type House, openTestHouse, profile } from './open-house.ts'

let house: House
let cookie: string
beforeAll(async () => {
  house = await openTestHouse()
  cookie = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id: 'kitchen' } })
})
afterAll(() => house.close())

const tests = '/api/tanks/kitchen/tests'
const send = (raw: string | Buffer, url = tests, headers: Record<string, string> = {}) =>
  house.ask('POST', url, { cookie, raw, headers })
const withValue = (value: string, takenAt = String(house.clock.nowMs)) =>
  `{"takenAt":${takenAt},"results":[{"quantity":"ammonia","value":${value},"unit":"mg/L"}]}`
const code = (answer: Answer) => (answer.body as { code?: string }).code
const pointers = (answer: Answer) =>
  ((answer.body as { errors?: { pointer: string }[] }).errors ?? []).map((fault) => fault.pointer)

describe('the value of a water test', () => {
  // What a form, a spreadsheet or a broken script sends in place of a number.
  const noNumbers: readonly [string, string][] = [
    ['an empty text', '""'],
    ['a space', '" "'],
    ['a number in quotes', '"0.25"'],
    ['a comma decimal', '"7,4"'],
    ['null', 'null'],
    ['true', 'true'],
    ['a list', '[0.25]'],
    ['an object', '{"value":0.25}'],
    ['more than a number can hold', '1e309'],
    ['less than a number can hold', '-1e309'],
    ['a negative amount', '-0.5'],
    ['an absurd amount', '1e9']
  ]
  for (const [name, value] of noNumbers)
    it(`is refused when it is ${name}`, async () => {
      const answer = await send(withValue(value))
      expect(answer.status).toBe(422)
      expect(code(answer)).toBe('API_BAD_INPUT')
      expect(pointers(answer)).toContain('#/results/0/value')
    })

  for (const value of ['NaN', 'Infinity', '-Infinity', '0x10', '.5', '1_000', '+1', '01'])
    it(`cannot be written as ${value}, which JSON does not know`, async () => {
      expect(code(await send(withValue(value)))).toBe('API_BAD_JSON')
    })

  it('is taken as zero when zero is what was typed', async () => {
    const answer = await send(withValue('0'))
    expect(answer.status).toBe(201)
    const listed = await house.ask('GET', tests, { cookie })
    expect(listed.body).toMatchObject([{ results: [{ quantity: 'ammonia', value: 0, basis: 'NH3' }] }])
  })

  it('stores nothing of a test of which one line is bad', async () => {
    const before = (await house.ask('GET', tests, { cookie })).body
    const answer = await house.ask('POST', tests, {
      cookie,
      body: {
        takenAt: house.clock.nowMs,
        results: [
          { quantity: 'nitrite', value: 1, unit: 'mg/L' },
          { quantity: 'kh', value: 4, unit: 'mg/L' },
          { quantity: 'ph', value: 7, unit: 'pH', basis: 'N' }
        ]
      }
    })
    expect(pointers(answer)).toEqual(['#/results/1/unit', '#/results/2/basis'])
    expect((await house.ask('GET', tests, { cookie })).body).toEqual(before)
  })
})

describe('a time', () => {
  const refused: readonly [string, string][] = [
    ['without an offset', '"2026-11-25T07:30:00"'],
    ['of a day alone', '"2026-11-25"'],
    ['of a day that does not exist', '"2026-02-30T07:30:00Z"'],
    ['in words', '"yesterday"'],
    ['that is empty', '""'],
    ['that is null', 'null'],
    ['before 1970', '-1'],
    ['in the future', String(Date.parse('2027-01-01T00:00:00Z'))]
  ]
  for (const [name, time] of refused)
    it(`${name} is refused`, async () => {
      const answer = await send(withValue('1', time))
      expect(answer.status).toBe(422)
      expect(pointers(answer)).toContain('#/takenAt')
    })

  it('may be milliseconds or ISO 8601 with offset, in bodies and queries alike', async () => {
    // 2026-11-25T07:30:00+01:00 is 06:30 UTC.
    const atMs = Date.UTC(2026, 10, 25, 6, 30)
    await send(withValue('1.25', '"2026-11-25T07:30:00+01:00"'))
    for (const time of [String(atMs), '2026-11-25T06:30:00Z', '2026-11-25T07:30:00%2B01:00']) {
      const { body } = await house.ask('GET', `${tests}?from=${time}&to=${time}`, { cookie })
      expect(body).toMatchObject([{ takenAtMs: atMs, results: [{ value: 1.25 }] }])
    }
  })

  for (const query of [
    'from=yesterday',
    'from=',
    'from=2026-11-25T07:30:00',
    'limit=0',
    'limit=1e3',
    'limit=',
    'limit=-5'
  ])
    it(`or number of a query is refused: ${query}`, async () => {
      const answer = await house.ask('GET', `${tests}?${query}`, { cookie })
      expect(answer.status).toBe(422)
      expect(pointers(answer)).toEqual([`#/query/${query.split('=')[0]}`])
    })
})

describe('a body', () => {
  const badJson: readonly [string, string | Buffer][] = [
    ['that breaks off', '{"takenAt":'],
    ['with a comma too many', '{"a":1,}'],
    ['of one quote', '"'],
    ['that would change what every object is', '{"__proto__":{"role":"keeper"}}'],
    ['that would change it one level down', '{"results":[{"__proto__":{"role":"keeper"}}]}'],
    ['that would change it through the constructor', '{"constructor":{"prototype":{"role":"keeper"}}}'],
    ['of bytes that are no text', Buffer.from([0xff, 0xfe, 0x00, 0x80])]
  ]
  for (const [name, raw] of badJson)
    it(`${name} is refused`, async () => {
      const answer = await send(raw)
      expect(answer.status).toBe(400)
      expect(code(answer)).toBe('API_BAD_JSON')
      expect(({} as { role?: string }).role).toBeUndefined()
    })

  it('of ten megabytes is refused and costs no other request', async () => {
    const answer = await send(`{"note":"${'x'.repeat(10 * 1024 * 1024)}"}`)
    expect(answer.status).toBe(413)
    expect(code(answer)).toBe('API_TOO_LARGE')
    expect((await house.ask('GET', tests, { cookie })).status).toBe(200)
  })

  it('of fifty thousand brackets is refused', async () => {
    const deep = '['.repeat(50_000) + ']'.repeat(50_000)
    const answer = await send(`{"takenAt":1,"results":${deep}}`)
    expect([400, 422]).toContain(answer.status)
  })

  it('that is a list, a text or a number is refused where fields are asked for', async () => {
    for (const raw of ['[]', '"text"', '1', 'null', 'true']) {
      const answer = await send(raw)
      expect(answer.status, raw).toBe(422)
    }
  })

  it('with a field nobody knows names that field', async () => {
    const answer = await house.ask('PUT', '/api/settings', {
      cookie,
      body: { temperatureUnits: 'degF', 'a/b~c': 1 }
    })
    expect(pointers(answer).sort()).toEqual(['#/a~1b~0c', '#/temperatureUnits'])
  })

  it('in another form than JSON is refused with the header to send', async () => {
    for (const type of ['text/plain', 'text/csv', 'application/xml', 'application/jsonp', 'nonsense']) {
      const answer = await send(withValue('1'), tests, { 'content-type': type })
      expect(answer.status, type).toBe(415)
      expect((answer.body as { detail: string }).detail).toContain('application/json')
    }
  })

  it('that holds markup comes back as the text it was', async () => {
    const note = '<img src=x onerror=alert(1)> \u001b[31m"; DROP TABLE entry; --'
    const body = { atMs: house.clock.nowMs, kind: 'note', note }
    await house.ask('POST', '/api/tanks/kitchen/events', { cookie, body })
    const answer = await house.ask('GET', '/api/tanks/kitchen/events', { cookie })
    expect(answer.body).toMatchObject([{ note }])
    expect(answer.headers['content-type']).toContain('application/json')
    expect(answer.headers['x-content-type-options']).toBe('nosniff')
  })
})

describe('an address', () => {
  const hostile = [
    '/api/tanks/../../etc/passwd',
    '/api/tanks/%2e%2e%2f%2e%2e%2fetc%2fpasswd',
    '/..%2f..%2fpackage.json',
    '/.git/config',
    '/api/tanks/__proto__/now',
    '/api/tanks/constructor/tests',
    '/api/tanks/kitchen%00/now',
    `/api/tanks/${'a'.repeat(5000)}/now`,
    '/api/tanks/kitchen/series/__proto__',
    '/api/tanks/kitchen%27%20OR%201=1/now'
  ]
  for (const url of hostile)
    it(`like ${url.slice(0, 50)} leads nowhere`, async () => {
      const answer = await house.ask('GET', url, { cookie })
      expect([400, 404, 422]).toContain(answer.status)
      expect(answer.headers['content-type']).toContain('application/problem+json')
      expect(answer.text).not.toContain('root:')
    })

  it('that cannot be decoded is refused in the same shape as all else', async () => {
    const answer = await house.ask('GET', '/api/tanks/%E0%A4%A', { cookie })
    expect(answer.status).toBe(400)
    expect(code(answer)).toBe('API_BAD_REQUEST')
  })

  const later = [
    ['GET', '/metrics'],
    ['GET', '/api/tanks/kitchen/cycle'],
    ['POST', '/api/tanks/kitchen/plan/stocking']
  ] as const
  for (const [method, url] of later)
    it(`of a capability that is not there answers 404: ${method} ${url}`, async () => {
      const answer = await house.ask(method, url, { cookie, ...(method === 'POST' ? { body: {} } : {}) })
      expect(answer.status).toBe(404)
      expect(code(answer)).toBe('API_NOT_FOUND')
    })
})
