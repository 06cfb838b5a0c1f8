import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Fastify from 'fastify'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Door } from '../../services/api/api-parts.ts'
import { addDashboardFiles } from '../../services/api/dashboard-files.ts'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
const pageDir = mkdtempSync(join(tmpdir(), 'page-'))
beforeAll(async () => {
  writeFileSync(join(pageDir, 'index.html'), '<!doctype html><title>page</title><body><p>x</p></body>')
  house = await openTestHouse({ dashboardDir: pageDir })
  const cookie = await house.enter('keeper')
  const sly = { ...profile, id: 'kitchen', name: '</script><script>alert(1)</script><!--' }
  await house.ask('POST', '/api/tanks', { cookie, body: sly })
})
afterAll(async () => {
  await house.close()
  rmSync(pageDir, { recursive: true, force: true })
})

type First = Readonly<{ answers: Record<string, unknown>; zones: readonly { zone: string }[] }>
const place = /<script type="application\/json" id="first-answers">(.*?)<\/script>/s

async function frontPage(cookie: string | null): Promise<Readonly<{ first: First; text: string }>> {
  const page = await house.ask('GET', '/', { cookie })
  expect(page.status).toBe(200)
  expect(page.headers['content-type']).toBe('text/html; charset=utf-8')
  // RFC 9111, 5.2.2.5: no cache may keep it.
  expect(page.headers['cache-control']).toBe('no-store')
  return { first: JSON.parse(place.exec(page.text)?.[1] ?? '') as First, text: page.text }
}

test.each(['keeper', 'helper', 'wall'] as const)(
  'the front page tells a %s exactly what the routes tell',
  async (role) => {
    const cookie = await house.enter(role)
    const { first } = await frontPage(cookie)
    const paths = ['/api/me', '/api/tanks', '/api/tanks/kitchen/now']
    expect(Object.keys(first.answers)).toEqual(paths)
    for (const path of paths)
      expect(first.answers[path]).toEqual((await house.ask('GET', path, { cookie })).body)
    expect(first.zones.map(({ zone }) => zone)).toEqual([profile.timeZone])
  }
)

test('a stranger, and whoever has logged out, learns what anyone may know and of no tank', async () => {
  const cookie = await house.enter('keeper')
  await house.ask('DELETE', '/api/session', { cookie })
  for (const none of [null, cookie, 'shoal-session=0123456789012345678901234567890']) {
    const { first } = await frontPage(none)
    expect(first).toEqual({ answers: { '/api/me': (await house.ask('GET', '/api/me')).body }, zones: [] })
  }
})

test('no name of a tank ends the place where the answers stand', async () => {
  const { text } = await frontPage(await house.enter('keeper'))
  expect(text.match(/<\/?script/g)).toEqual(['<script', '</script'])
  expect(text).not.toContain('<!--')
})

test('an archived tank is not told of', async () => {
  const cookie = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie, body: { ...profile, id: 'gone' } })
  await house.ask('DELETE', '/api/tanks/gone', { cookie })
  const { first } = await frontPage(cookie)
  expect(Object.keys(first.answers)).not.toContain('/api/tanks/gone/now')
})

test('any other address of the page brings no answers, and is asked for anew each time', async () => {
  const page = await house.ask('GET', '/join', { cookie: await house.enter('keeper') })
  expect(page.text).not.toMatch(place)
  expect(page.headers['cache-control']).toBe('no-cache')
})

test('where the answers cannot be given the page comes without them', async () => {
  const door = Fastify() as unknown as Door
  const firstAnswers = async (): Promise<string> => {
    throw new Error('the record does not answer')
  }
  await addDashboardFiles(door, { dashboardDir: pageDir, firstAnswers })
  const page = await door.inject('/')
  expect(page.statusCode).toBe(200)
  expect(page.headers['cache-control']).toBe('no-store')
  expect(page.body).toBe('<!doctype html><title>page</title><body><p>x</p></body>')
  await door.close()
})
