import { afterEach, expect, test, vi } from 'vitest'
import { makeClient } from '../../dashboard/feed/client.ts'
import { readFirstAnswers, takeEarly } from '../../dashboard/feed/early.ts'

afterEach(() => vi.unstubAllGlobals())

/** A page with these first answers in it, so old. */
function pageWith(text: string | null, ageMs = 100) {
  vi.stubGlobal('performance', { now: () => ageMs })
  const remove = (): void => {
    place = null
  }
  let place = text === null ? null : { textContent: text, remove }
  return { getElementById: () => place }
}
const zones = [{ zone: 'Europe/Vienna', toMs: 9, spans: [{ fromMs: 0, minutes: 60 }] }]
const whole = JSON.stringify({ answers: { '/api/me': { role: 'wall' }, '/api/tanks': [] }, zones })

test('an answer that came with the page is taken once, by whoever asks the same, and leaves the page', () => {
  const page = pageWith(whole)
  expect(readFirstAnswers(page)).toEqual(zones)
  expect(page.getElementById()).toBeNull()
  expect(takeEarly('/api/me', 'GET')).toEqual({ role: 'wall' })
  expect(takeEarly('/api/me', 'GET')).toBeUndefined()
})

test('what is sent makes every early answer void: after a log-in nobody hears what was true before it', () => {
  readFirstAnswers(pageWith(whole))
  expect(takeEarly('/api/session', 'POST')).toBeUndefined()
  expect(takeEarly('/api/tanks', 'GET')).toBeUndefined()
})

test('an answer of ten seconds ago no longer tells the present', () => {
  readFirstAnswers(pageWith(whole))
  pageWith(null, 10_001)
  expect(takeEarly('/api/tanks', 'GET')).toBeUndefined()
})

test.each([null, '', '{"answers"'])('a page with %j in that place asks for itself', (text) => {
  expect(readFirstAnswers(pageWith(text))).toEqual([])
})

test('what is known already is not asked over the line, and what is sent always is', async () => {
  readFirstAnswers(pageWith(whole))
  const asked: string[] = []
  const client = makeClient(async (path) => {
    asked.push(String(path))
    return new Response('{}')
  }, takeEarly)
  expect(await client.get('/api/me')).toEqual({ kind: 'done', value: { role: 'wall' } })
  expect(asked).toEqual([])
  await client.send('POST', '/api/session', {})
  await client.get('/api/tanks')
  expect(asked).toEqual(['/api/session', '/api/tanks'])
})
