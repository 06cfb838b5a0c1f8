import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { permissions } from '../../services/api/permissions.ts'
import { calculatorNames } from '../../services/contract/calculators.ts'
import { catalogue } from '../../services/errors.ts'
import { type Answer, type Ask, type House, openTestHouse, password, profile } from './open-house.ts'

let house: House
let cookie: string
const pageDir = mkdtempSync(join(tmpdir(), 'page-'))
beforeAll(async () => {
  mkdirSync(join(pageDir, 'assets'))
  writeFileSync(join(pageDir, 'index.html'), '<!doctype html><title>page</title>')
  writeFileSync(join(pageDir, 'assets', 'main-1a2b3c.js'), 'export const x = 1')
  writeFileSync(join(pageDir, '.hidden'), 'words for nobody')
  house = await openTestHouse({ dashboardDir: pageDir })
  cookie = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id: 'kitchen' } })
})
afterAll(async () => {
  await house.close()
  rmSync(pageDir, { recursive: true, force: true })
})

/** RFC 9457 section 3: members and media type; `code`, `errors` are our extension members. */
function expectProblem(answer: Answer): void {
  const problem = answer.body as Record<string, unknown>
  expect(answer.headers['content-type']).toBe('application/problem+json')
  expect(problem.status).toBe(answer.status)
  expect(String(problem.type)).toMatch(/^urn:/)
  expect(problem.code).toBeOneOf(Object.keys(catalogue))
  expect(problem.title).toBe(catalogue[problem.code as keyof typeof catalogue].title)
  expect(String(problem.detail).length).toBeGreaterThan(30)
  expect(String(problem.instance)).toMatch(/^\//)
  expect(answer.text).not.toMatch(/node_modules|\.ts:|\.js:|at .*\(|FST_ERR|SQLITE/)
  for (const fault of (problem.errors ?? []) as { detail: string; pointer: string }[]) {
    expect(fault.pointer).toMatch(/^#(\/|$)/)
    expect(fault.detail.length).toBeGreaterThan(5)
  }
}

/** A page of its own for whoever holds a link: no part of the API, hidden in its description. */
const isLinkPage = (path: string) => path.startsWith('/a/')

function expectHeaders({ headers }: Answer, isPage = false, referrer = ['no-referrer']): void {
  const policy = String(headers['content-security-policy'])
  // OWASP ASVS 5.0, 3.4: policy, sniffing, framing, referrer.
  expect(policy).toContain("default-src 'self'")
  expect(policy).toContain("script-src 'self'")
  expect(policy).toContain("object-src 'none'")
  expect(policy).toContain("base-uri 'none'")
  expect(policy).toContain("frame-ancestors 'none'")
  expect(policy).not.toMatch(/unsafe|upgrade-insecure|\*/)
  expect(headers['x-content-type-options']).toBe('nosniff')
  expect(headers['x-frame-options']).toBe('DENY')
  expect(referrer).toContain(headers['referrer-policy'])
  expect(headers['strict-transport-security']).toBeUndefined()
  expect(headers['x-powered-by']).toBeUndefined()
  expect(headers.server).toBeUndefined()
  expect(headers['access-control-allow-origin']).toBeUndefined()
  if (!isPage) expect(headers['cache-control']).toBe('no-store')
}

/** Every route with a request that succeeds or fails by its own rules, and with each way to be refused. */
const tries: readonly [string, Ask][] = [
  ['without a session', {}],
  ['with a body that breaks off', { raw: '{' }],
  ['with a body of the wrong type', { raw: 'x', headers: { 'content-type': 'text/plain' } }],
  ['with an unknown field', { body: { nonsense: true } }],
  ['from a foreign page', { headers: { origin: 'https://evil.example' } }],
  ['for a foreign host', { headers: { host: 'evil.example' } }]
]

describe('every answer of every route', () => {
  for (const row of Object.keys(permissions)) {
    const [method = '', path = ''] = row.split(' ')
    if (row === 'GET /api/live' || row === 'DELETE /api/session') continue
    it(`has the protecting headers, and a refusal is problem details: ${row}`, async () => {
      const url = path.replace(':tank', 'kitchen').replace(/:\w+/g, 'nothing').replace('*', '')
      for (const [name, ask] of tries) {
        const sent = method === 'GET' || method === 'DELETE' ? { headers: ask.headers ?? {} } : ask
        const session = name === 'without a session' ? null : cookie
        const answer = await house.ask(method, url, { ...sent, cookie: session })
        // The button of a link's page must tell this house where it was pressed, and no other site.
        const referrer = isLinkPage(path) ? ['same-origin', 'no-referrer'] : ['no-referrer']
        expectHeaders(answer, ['/', '/*', '/a/page.css'].includes(path), referrer)
        // A link's own answers are pages for people; what the guards before it refuse is problem details there, too.
        const isPage = isLinkPage(path) && String(answer.headers['content-type']).startsWith('text/html')
        if (answer.status >= 400 && !isPage) expectProblem(answer)
        if (name === 'for a foreign host') expect(answer.status).toBe(403)
      }
    })
  }

  it('has them at addresses that do not exist, too', async () => {
    for (const [method, url] of [
      ['GET', '/api/nothing'],
      ['POST', '/nothing'],
      ['DELETE', '/'],
      ['GET', '/nothing.js'],
      ['PUT', '/api/tanks']
    ] as const) {
      const answer = await house.ask(method, url, { cookie })
      expect(answer.status, url).toBe(404)
      expectProblem(answer)
      expectHeaders(answer, !url.startsWith('/api/'))
    }
  })

  it('promises HTTPS for later only where it came over HTTPS', async () => {
    const own = await openTestHouse({
      config: {
        httpHost: null,
        mqttHost: null,
        keeperPassword: password,
        publicUrl: 'https://tank.example.org'
      }
    })
    const over = await own.ask('GET', '/healthz', { headers: { host: 'tank.example.org' } })
    expect(over.headers['strict-transport-security']).toMatch(/^max-age=\d+/)
    const plain = await own.ask('GET', '/healthz')
    expect(plain.headers['strict-transport-security']).toBeUndefined()
    await own.close()
  })
})

describe('a fault inside the house', () => {
  it('is told without its inner side', async () => {
    const record = {
      ...house.record,
      tanks: () => Promise.reject(new Error('SQLITE_CORRUPT at /secret/x/data'))
    }
    const own = await openTestHouse({ record })
    const answer = await own.ask('GET', '/api/tanks', { cookie: await own.enter('keeper') })
    expect(answer.status).toBe(500)
    expectProblem(answer)
    expect(answer.text).not.toContain('/secret/x')
    await own.close()
  })
})

describe('/healthz', () => {
  it('is well while readings are stored and alarms judged, and says why not otherwise', async () => {
    const own = await openTestHouse()
    await own.ask('POST', '/api/tanks', {
      cookie: await own.enter('keeper'),
      body: { ...profile, name: 'Secretname' }
    })
    expect((await own.ask('GET', '/healthz')).status).toBe(200)
    own.clock.nowMs += 31_000
    const unwell = await own.ask('GET', '/healthz')
    expect(unwell.status).toBe(503)
    expectProblem(unwell)
    expect(unwell.body).toMatchObject({ code: 'API_UNWELL', reasons: [{ code: 'alarms-not-judged' }] })
    expect(unwell.text.toLowerCase()).not.toContain('secretname')
    own.desk.judge.lastTickMs = own.clock.nowMs
    expect((await own.ask('GET', '/healthz')).status).toBe(200)
    await own.close()
  })

  it('is unwell when the record cannot be written or does not answer', async () => {
    for (const health of [
      () =>
        Promise.resolve({
          canWrite: false,
          lastCommitMs: null,
          walBytes: 0,
          readings: 0,
          why: 'tank kitchen'
        }),
      () => Promise.reject(new Error('thread ended'))
    ]) {
      const own = await openTestHouse({ record: { ...house.record, health } })
      const unwell = await own.ask('GET', '/healthz')
      expect(unwell.body).toMatchObject({ reasons: [{ code: 'record-cannot-be-written' }] })
      expect(unwell.text).not.toContain('kitchen')
      await own.close()
    }
  })
})

describe('the page', () => {
  it('is asked for again each time, its parts for ever, and stands at every address without a file ending', async () => {
    for (const url of ['/', '/join', '/tanks/kitchen/history', '/setup?x=1']) {
      const page = await house.ask('GET', url)
      expect(page.status, url).toBe(200)
      expect(page.headers['content-type']).toContain('text/html')
      // The front door tells the present to one visitor: no copy is kept (RFC 9111, 5.2.2.5).
      expect(page.headers['cache-control']).toBe(url === '/' ? 'no-store' : 'no-cache')
      expectHeaders(page, true)
    }
    const part = await house.ask('GET', '/assets/main-1a2b3c.js')
    expect(part.headers['cache-control']).toBe('public, max-age=31536000, immutable')
    for (const url of ['/assets/main-old.js', '/.hidden', '/assets/', '/..%2fpackage.json'])
      expect((await house.ask('GET', url)).text, url).not.toMatch(/words for nobody|index of|shoalkeeper"/i)
    expect((await house.ask('GET', '/assets/main-old.js')).status).toBe(404)
  })
})

describe('the description of all routes', () => {
  it('is OpenAPI 3.1 and holds each route with its refusal, who may use it, and no schema of another version', async () => {
    const answer = await house.ask('GET', '/api/openapi.json')
    const document = answer.body as {
      openapi: string
      info: { title: string; version: string }
      paths: Record<
        string,
        Record<string, { responses: Record<string, { content?: object }>; security: object[] }>
      >
    }
    // OpenAPI Specification 3.1.0, 4.8.1 and 4.8.2: required fields.
    expect(document.openapi).toMatch(/^3\.1\.\d+$/)
    expect(document.info).toMatchObject({ title: 'Shoalkeeper', version: '0.1.0' })
    for (const [row, allowed] of Object.entries(permissions)) {
      if (['GET /', 'GET /*', 'POST /api/calculate/:name'].includes(row)) continue
      const [method = '', path = ''] = row.split(' ')
      if (isLinkPage(path)) continue
      const operation = document.paths[path.replace(/:(\w+)/g, '{$1}')]?.[method.toLowerCase()]
      expect(operation, row).toBeDefined()
      const shown = allowed === 'board' ? [{ board: [] }] : [{ session: [] }]
      expect(operation?.security, row).toEqual(allowed === 'anyone' ? [] : shown)
      expect(operation?.responses.default, row).toMatchObject({
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } }
      })
    }
    for (const name of calculatorNames)
      expect(document.paths[`/api/calculate/${name}`]?.post?.security, name).toEqual([])
    // 3.0 said `nullable`; 3.1 is JSON Schema 2020-12. Every reference leads somewhere.
    expect(answer.text).not.toContain('"nullable"')
    for (const [, pointer = ''] of answer.text.matchAll(/"\$ref":"#([^"]+)"/g))
      expect(
        pointer
          .slice(1)
          .split('/')
          .reduce<unknown>((part, name) => (part as Record<string, unknown> | undefined)?.[name], document),
        pointer
      ).toBeDefined()
    for (const [path, operations] of Object.entries(document.paths))
      for (const [method, operation] of Object.entries(operations)) {
        const named = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1])
        const told = (
          (operation as { parameters?: { in: string; name: string; required?: boolean }[] }).parameters ?? []
        )
          .filter((parameter) => parameter.in === 'path')
          .map((parameter) => (parameter.required === true ? parameter.name : `${parameter.name}?`))
        expect(told.sort(), `${method} ${path}`).toEqual(named.sort())
      }
  })
})
