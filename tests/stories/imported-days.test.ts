import { expect, test } from 'vitest'
import { kitchen, until } from '../wire/house-process.ts'
import { storyFolder } from './story-folder.ts'
import { seriesOf } from './timed-house.ts'

const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const folder = storyFolder()

test('days that came in as a file are tested as heard ones are, and pH is judged against them without a restart', async () => {
  const nowMs = { at: Date.UTC(2026, 10, 20, 12) }
  const house = await folder.open({ clock: () => nowMs.at })
  expect((await house.ask('POST', '/api/tanks', kitchen)).status).toBe(201)
  await house.ask('POST', '/api/tanks/kitchen/events', {
    at: nowMs.at - 20 * day,
    kind: 'fish-added',
    data: { species: 'cherry-barb', count: 6 }
  })
  const jumpMs = nowMs.at - 3 * day
  const rows = ['time,kind,quantity,value,unit,basis,probe,flag,note']
  for (let atMs = nowMs.at - 8 * day; atMs < nowMs.at; atMs += 5 * minute) {
    const daily = 7.4 + 0.02 * Math.sin((2 * Math.PI * atMs) / day) + 0.01 * Math.sin(atMs / (11 * minute))
    // In its last thirty hours it stands 0.3 lower than in all the days before: longer than gas is asked about.
    const value = atMs === jumpMs ? 8.3 : atMs < nowMs.at - 30 * hour ? daily : daily - 0.3
    rows.push(`${new Date(atMs).toISOString()},reading,ph,${value.toFixed(2)},pH,,p1,,`)
  }
  await house.importCsv('kitchen', `${rows.join('\r\n')}\r\n`)
  const open = house
  const flagAt = async (atMs: number): Promise<number | undefined> =>
    (await seriesOf(open.ask, 'ph', { fromMs: atMs - 2 * minute, toMs: atMs + 2 * minute })).find(
      (point) => point.count + point.countBad > 0
    )?.flag
  await until(async () => (await flagAt(jumpMs)) === 4, { withinMs: 20_000, what: 'the jump to be found' })
  expect(await flagAt(jumpMs - 5 * minute)).toBe(1)
  const rung = async (): Promise<string[]> =>
    ((await open.ask('GET', '/api/alarms?tank=kitchen')).body as { kind: string }[])
      .map(({ kind }) => kind)
      .filter((kind) => kind.startsWith('ph-'))
  expect(await rung()).toEqual([])
  for (let count = 0; count < 45; count += 1) {
    nowMs.at += minute
    const value = (7.1 + 0.01 * Math.sin(nowMs.at / (11 * minute))).toFixed(2)
    await open.publish('shoal/kitchen/p1/ph', { value: Number(value), time: nowMs.at / 1000 })
    await open.tick()
  }
  expect(await rung()).toEqual(['ph-falling'])
}, 120_000)
