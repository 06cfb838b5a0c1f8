import { expect, test } from 'vitest'
import { kitchen, until } from '../wire/house-process.ts'
import { storyFolder } from './story-folder.ts'
import { seriesOf } from './timed-house.ts'

const minute = 60_000
const hour = 60 * minute
const folder = storyFolder()

test('what a board kept while the watch was away is tested as it would have been then: a jump and a stuck night are found, and nothing rings', async () => {
  const nowMs = { at: Date.UTC(2026, 10, 20, 12) }
  const house = await folder.open({ clock: () => nowMs.at })
  expect((await house.ask('POST', '/api/tanks', kitchen)).status).toBe(201)
  const topic = 'shoal/kitchen/p1/ph'
  const say = async (value: number, atMs: number): Promise<void> => {
    await house.publish(topic, { value, time: atMs / 1000 })
  }
  for (let index = 0; index < 5; index++) {
    nowMs.at += minute
    await say(7.2, nowMs.at)
    await house.tick()
  }
  // Two days away; the board keeps a reading in five minutes.
  const awayMs = nowMs.at
  const stuckMs = awayMs + 20 * hour
  const jumpMs = awayMs + 10 * hour
  nowMs.at += 48 * hour
  await house.tick()
  const kept = Array.from({ length: 48 * 12 - 1 }, (_, index) => awayMs + (index + 1) * 5 * minute)
  const valueAt = (atMs: number): number => {
    if (atMs === jumpMs) return 7.9
    // From its twentieth hour on the electrode says one and the same for 16 hours.
    if (atMs >= stuckMs && atMs < stuckMs + 16 * hour) return 7.23
    return Number(
      (7.2 + 0.05 * Math.sin(atMs / (2 * hour)) + 0.01 * Math.sin(atMs / (11 * minute))).toFixed(2)
    )
  }
  for (let from = 0; from < kept.length; from += 100)
    await Promise.all(kept.slice(from, from + 100).map((atMs) => say(valueAt(atMs), atMs)))
  const open = house
  const flagAt = async (atMs: number): Promise<number | undefined> => {
    const span = { fromMs: atMs - 2 * minute, toMs: atMs + 2 * minute }
    return (await seriesOf(open.ask, 'ph', span)).find((point) => point.count + point.countBad > 0)?.flag
  }
  await until(async () => (await flagAt(jumpMs)) === 4, { withinMs: 20_000, what: 'the jump to be found' })
  await until(async () => (await flagAt(stuckMs + 15 * hour)) === 4, {
    withinMs: 20_000,
    what: 'the stuck night to be found'
  })
  expect(await flagAt(jumpMs - 5 * minute)).toBe(1)
  expect(await flagAt(jumpMs + 5 * minute)).toBe(1)
  expect(await flagAt(stuckMs + hour)).toBe(1)
  expect(await flagAt(stuckMs + 6 * hour)).toBe(3)
  expect(await flagAt(stuckMs + 17 * hour)).toBe(1)
  await open.tick()
  const alarms = (await open.ask('GET', '/api/alarms?tank=kitchen')).body as { kind: string }[]
  expect(alarms.map(({ kind }) => kind).filter((kind) => kind.startsWith('p'))).toEqual([])
}, 120_000)
