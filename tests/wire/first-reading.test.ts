import { execFile, execFileSync } from 'node:child_process'
import { promisify } from 'node:util'
import { afterAll, beforeAll, expect, test } from 'vitest'
import {
  type Ask,
  type HouseProcess,
  kitchen,
  makeDataDir,
  removeDataDir,
  startHouse,
  until
} from './house-process.ts'

const run = promisify(execFile)
const hasMosquitto = (() => {
  try {
    execFileSync('mosquitto_pub', ['--help'], { stdio: 'ignore' })
    return true
  } catch (cause) {
    return (cause as { code?: string }).code !== 'ENOENT'
  }
})()
const dataDir = makeDataDir()
let house: HouseProcess
let ask: Ask
beforeAll(async () => {
  house = await startHouse({ dataDir })
  ask = await house.login()
})
afterAll(async () => {
  await house?.kill('SIGTERM')
  removeDataDir(dataDir)
})

type Now = {
  readings: Record<string, { value: number; unit: string; atMs: number; probe: string } | undefined>
  derived: { nh3MgL: { value: number | null; low: number; high: number; reason: string } }
}
const now = async () => (await ask('GET', '/api/tanks/kitchen/now')).body as Now
const publish = (topic: string, payload: string) =>
  run('mosquitto_pub', [
    '-h',
    '127.0.0.1',
    '-p',
    String(house.mqttPort),
    '-q',
    '1',
    '-t',
    topic,
    '-m',
    payload
  ])

test.skipIf(!hasMosquitto)(
  'published with mosquitto_pub (apt-get install -y mosquitto-clients), temperature and pH stand in the present, and with a typed test the toxic ammonia too',
  async () => {
    expect(
      (await ask('POST', '/api/tanks', { ...kitchen, species: [{ id: 'puntius-titteya', count: 6 }] })).status
    ).toBe(201)
    await publish('shoal/kitchen/t1/temperature', '25')
    await publish('shoal/kitchen/p1/ph', '{"value":8.0}')
    await until(async () => (await now()).readings.ph !== undefined, {
      withinMs: 5000,
      what: 'pH in the present'
    })
    expect((await now()).readings).toMatchObject({
      temperature: { value: 25, unit: 'Cel', probe: 't1' },
      ph: { value: 8, probe: 'p1' }
    })

    const typed = await ask('POST', '/api/tanks/kitchen/tests', {
      takenAt: Date.now(),
      results: [{ quantity: 'ammonia', value: 0.5, unit: 'mg/L', basis: 'N' }],
      clientKey: 'one'
    })
    expect(typed.status).toBe(201)
    // Emerson et al. 1975: 5.37 % at 25 °C and pH 8, so 0.5 mg N/L holds 0.5 x 0.0537 x 17.031/14.007 mg/L NH3.
    const { nh3MgL } = (await now()).derived
    expect(nh3MgL.value).toBeCloseTo(0.5 * 0.053662 * (17.031 / 14.007), 4)
    expect(nh3MgL.low).toBeLessThan(nh3MgL.value ?? 0)
    expect(nh3MgL.high).toBeGreaterThan(nh3MgL.value ?? 0)
  }
)

test.skipIf(!hasMosquitto)(
  'what cannot be read (mosquitto-clients) is kept with its reason and harms no neighbour',
  async () => {
    await publish('shoal/kitchen/t1/temperature', '7,4')
    await publish('shoal/kitchen/t1/temperature', '25.0625')
    await until(async () => (await now()).readings.temperature?.value === 25.0625, {
      withinMs: 5000,
      what: 'the good reading'
    })
    const { refusals } = (await ask('GET', '/api/refused')).body as {
      refusals: { payloadStart: string; reason: string }[]
    }
    expect(refusals.find((refusal) => refusal.payloadStart === '7,4')?.reason).toMatch(/point|comma/i)
  }
)

test.skipIf(!hasMosquitto)(
  'readings for a tank that is not there yet (mosquitto-clients) wait and are admitted when it is made',
  async () => {
    await publish('shoal/hallway/t9/temperature', '22.5')
    await until(
      async () =>
        ((await ask('GET', '/api/refused')).body as { waitingTanks: { tankId: string }[] }).waitingTanks.some(
          (tank) => tank.tankId === 'hallway'
        ),
      { withinMs: 5000, what: 'the waiting tank' }
    )
    expect((await ask('POST', '/api/tanks', { ...kitchen, id: 'hallway', name: 'Hallway' })).status).toBe(201)
    await until(
      async () =>
        ((await ask('GET', '/api/tanks/hallway/now')).body as Now).readings.temperature?.value === 22.5,
      { withinMs: 5000, what: 'the held reading' }
    )
  }
)

test('a second watch on the same folder is refused with what to do', async () => {
  await expect(startHouse({ dataDir })).rejects.toThrow(/RECORD_LOCKED/)
})
