import { afterEach, expect, test } from 'vitest'
import { kitchen, makeDataDir, removeDataDir } from '../wire/house-process.ts'
import { openSteppedHouse, type SteppedHouse } from './stepped-house.ts'

const minuteMs = 60_000
const evening = Date.UTC(2026, 10, 24, 21, 0)
let dataDir = ''
let house: SteppedHouse | null = null
afterEach(async () => {
  await house?.close()
  house = null
  removeDataDir(dataDir)
})

type Alarm = {
  id: string
  kind: string
  state: string
  priority: string
  acknowledgedBy: string | null
  words: { doNow: string[] }
}
const alarmsOf = async (open: SteppedHouse): Promise<Alarm[]> =>
  (await open.ask('GET', '/api/alarms?tank=kitchen')).body as Alarm[]

/** Cools by half a degree an hour from 25 °C, one reading a minute, as a dead heater in a cool room does. */
async function coolFor(open: SteppedHouse, fromC: number, minutes: number): Promise<number> {
  let tempC = fromC
  for (let minute = 0; minute < minutes; minute++) {
    tempC -= 0.5 / 60
    await open.advance(minuteMs)
    await open.publish('t1', 'temperature', Number(tempC.toFixed(4)))
  }
  return tempC
}

test('a heater dies at night: the alarm comes after its delay, is acknowledged, survives a restart, and ends when the water is warm', async () => {
  dataDir = makeDataDir()
  house = await openSteppedHouse({ dataDir, startMs: evening })
  const fish = [{ id: 'puntius-titteya', count: 6 }]
  expect((await house.ask('POST', '/api/tanks', { ...kitchen, species: fish })).status).toBe(201)
  // Cherry barbs are at home from 23 °C (encyclopedia mirror citing FishBase).
  let tempC = await coolFor(house, 23.4, 40)
  expect((await alarmsOf(house)).filter((alarm) => alarm.kind === 'water-cold')).toEqual([])
  tempC = await coolFor(house, tempC, 60)
  const raised = (await alarmsOf(house)).find((alarm) => alarm.kind === 'water-cold')
  expect(raised).toMatchObject({ state: 'unacknowledged', priority: 'medium' })
  expect(raised?.words.doNow.join(' ')).toMatch(/plug/i)

  expect((await house.ask('POST', `/api/alarms/${raised?.id}/acknowledge`, {})).status).toBeLessThan(300)
  expect((await alarmsOf(house)).find((alarm) => alarm.id === raised?.id)).toMatchObject({
    state: 'acknowledged'
  })

  await house.restart()
  await coolFor(house, tempC, 5)
  expect((await alarmsOf(house)).find((alarm) => alarm.id === raised?.id)).toMatchObject({
    state: 'acknowledged'
  })

  for (let minute = 0; minute < 110; minute++) {
    await house.advance(minuteMs)
    await house.publish('t1', 'temperature', 24.5 + (minute % 2) / 16)
  }
  const ended = (await alarmsOf(house)).find((alarm) => alarm.id === raised?.id)
  expect(ended?.state ?? 'normal').toBe('normal')
}, 120_000)

test('the same night without fish wakes nobody: water that is only cold is a low matter', async () => {
  dataDir = makeDataDir()
  house = await openSteppedHouse({ dataDir, startMs: evening })
  expect(
    (await house.ask('POST', '/api/tanks', { ...kitchen, start: { answer: 'filled', atMs: evening } })).status
  ).toBe(201)
  await coolFor(house, 23.4, 100)
  expect((await alarmsOf(house)).filter((alarm) => alarm.priority !== 'low')).toEqual([])
}, 120_000)
