import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import mqtt from 'mqtt'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { hasMosquitto, type Mosquitto, openMosquitto, withMosquitto } from '../broker/mosquitto.ts'
import {
  type Ask,
  type HouseProcess,
  kitchen,
  makeDataDir,
  removeDataDir,
  startHouse,
  until
} from './house-process.ts'

// Each start of the program takes seconds on a small machine that is busy.
const patience = { timeout: 120_000 }

describe.skipIf(!hasMosquitto)(`the program with an external broker ${withMosquitto}`, () => {
  const dataDir = makeDataDir()
  let broker: Mosquitto
  let house: HouseProcess
  let ask: Ask
  let board: mqtt.MqttClient
  const password = 'four quiet corydoras'

  const start = async (): Promise<void> => {
    house = await startHouse({
      dataDir,
      env: {
        MQTT_URL: broker.url,
        MQTT_USERNAME: 'shoal',
        MQTT_PASSWORD_FILE: join(broker.dir, 'our-password'),
        NODE_EXTRA_CA_CERTS: join(broker.dir, 'certificate.pem')
      }
    })
    ask = await house.login()
  }
  beforeAll(async () => {
    broker = await openMosquitto({
      anonymous: false,
      certificate: true,
      scheme: 'mqtts',
      lines: ['password_file %dir%/passwords']
    })
    writeFileSync(join(broker.dir, 'our-password'), `${password}\n`)
    await start()
    expect((await ask('POST', '/api/tanks', kitchen)).status).toBe(201)
    board = await mqtt.connectAsync(broker.url, {
      username: 'shoal',
      password,
      ca: readFileSync(join(broker.dir, 'certificate.pem')),
      protocolVersion: 4
    })
  })
  afterAll(async () => {
    await board?.endAsync(true)
    await house?.kill('SIGTERM')
    await broker?.remove()
    removeDataDir(dataDir)
  })

  type Now = { readings: Record<string, { value: number; probe: string } | undefined> }
  const now = async () => (await ask('GET', '/api/tanks/kitchen/now')).body as Now
  const publish = (topic: string, payload: string) => board.publishAsync(topic, payload, { qos: 1 })
  const shows = (quantity: string, value: number) =>
    until(async () => (await now()).readings[quantity]?.value === value, {
      withinMs: 40_000,
      what: `${quantity} ${value}`
    })

  test(
    'hears boards over TLS with name and password, says so, and opens no broker of its own',
    patience,
    async () => {
      await publish('shoal/kitchen/t1/temperature', '24.5')
      await shows('temperature', 24.5)
      expect((await ask('GET', '/api/me')).body).toMatchObject({
        mqtt: {
          host: '127.0.0.1',
          port: broker.port,
          builtIn: false,
          external: { connected: true, why: null }
        }
      })
      expect(house.output()).toContain(broker.url)
      expect(house.output()).not.toContain(password)
      await expect(
        mqtt.connectAsync(`mqtt://127.0.0.1:${house.mqttPort}`, { reconnectPeriod: 0 }, false)
      ).rejects.toThrow(/ECONNREFUSED/)
    }
  )

  test('takes over what came while it was killed and away', patience, async () => {
    const hourAgo = Date.now() - 3_600_000
    await house.kill('SIGKILL')
    for (let minute = 0; minute < 60; minute++)
      await publish(
        'shoal/kitchen/t1/temperature',
        JSON.stringify({ value: 24 + minute / 100, time: (hourAgo + (minute + 1) * 60_000) / 1000 })
      )
    await start()
    await shows('temperature', 24.59)
    const series = await ask(
      'GET',
      `/api/tanks/kitchen/series/temperature?from=${hourAgo - 1000}&points=5000`
    )
    const { points } = series.body as { points: { count: number }[] }
    expect(points.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThanOrEqual(60)
  })

  test(
    'hears foreign topics while somebody looks, and keeps listening to those that were assigned',
    patience,
    async () => {
      const heard = async () =>
        ((await ask('GET', '/api/heard')).body as { topics: { topic: string }[] }).topics.map(
          ({ topic }) => topic
        )
      await until(
        async () => {
          await publish('garage/pond', '{"t":18.5}')
          return (await heard()).includes('garage/pond')
        },
        { withinMs: 40_000, what: 'the foreign topic' }
      )
      expect(await heard()).not.toContain('shoal/kitchen/t1/temperature')
      const body = {
        topic: 'garage/pond',
        pointer: '/t',
        quantity: 'room-temperature',
        tank: 'kitchen',
        probe: 'g1'
      }
      expect((await ask('POST', '/api/probes', body)).status).toBe(201)
      await until(
        async () => {
          await publish('garage/pond', '{"t":18.75}')
          return (await now()).readings['room-temperature']?.value === 18.75
        },
        { withinMs: 40_000, what: 'the assigned topic' }
      )
      await house.kill('SIGKILL')
      await publish('garage/pond', '{"t":19}')
      await start()
      await shows('room-temperature', 19)
    }
  )

  test('goes on when the broker was killed and comes back', patience, async () => {
    await broker.stop('SIGKILL')
    await until(
      async () => {
        const { mqtt: state } = (await ask('GET', '/api/me')).body as {
          mqtt: { external: { connected: boolean } }
        }
        return !state.external.connected
      },
      { withinMs: 40_000, what: 'the loss to be seen' }
    )
    // A silent broker is no ill health of the watch.
    expect((await ask('GET', '/healthz')).status).toBe(200)
    await broker.start()
    await until(() => board.connected, { withinMs: 40_000, what: 'the board to come back' })
    await publish('shoal/kitchen/t1/temperature', '23.5')
    await shows('temperature', 23.5)
  })
})
