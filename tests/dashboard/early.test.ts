import { afterEach, expect, test, vi } from 'vitest'
import { askEarly, takeEarly } from '../../dashboard/feed/early.ts'

afterEach(() => vi.unstubAllGlobals())

const house = () => {
  const asked: string[] = []
  vi.stubGlobal('performance', { now: () => 100 })
  vi.stubGlobal('fetch', async (path: string) => {
    asked.push(path)
    return new Response(path)
  })
  return asked
}

test('an early answer is taken once, by whoever asks the same', async () => {
  const asked = house()
  askEarly('/api/me')
  expect(await (await takeEarly('/api/me', 'GET'))?.text()).toBe('/api/me')
  expect(takeEarly('/api/me', 'GET')).toBeNull()
  expect(asked).toEqual(['/api/me'])
})

test('what is sent makes every early answer void: after a log-in nobody hears the refusal from before it', () => {
  house()
  askEarly('/api/tanks')
  expect(takeEarly('/api/session', 'POST')).toBeNull()
  expect(takeEarly('/api/tanks', 'GET')).toBeNull()
})

test('an answer of ten seconds ago no longer tells the present', () => {
  house()
  askEarly('/api/tanks/kitchen/now')
  vi.stubGlobal('performance', { now: () => 10_001 })
  expect(takeEarly('/api/tanks/kitchen/now', 'GET')).toBeNull()
})
