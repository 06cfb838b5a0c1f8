import mqtt from 'mqtt'
import { expect, test } from 'vitest'
import { kitchen, makeDataDir, removeDataDir, startHouse, until } from './house-process.ts'

test('on a network a board needs its name and password, reaches its own tank only, and is cut off when withdrawn', async () => {
  const dataDir = makeDataDir()
  // 127.0.0.1 by another road: the broker is told to listen on all addresses, so passwords are needed.
  const house = await startHouse({ dataDir, env: { MQTT_HOST: '0.0.0.0' } })
  try {
    const ask = await house.login()
    await ask('POST', '/api/tanks', kitchen)
    const url = `mqtt://127.0.0.1:${house.mqttPort}`
    const options = { reconnectPeriod: 0, connectTimeout: 5000 }
    await expect(mqtt.connectAsync(url, options)).rejects.toThrow()
    const made = (await ask('POST', '/api/boards', { name: 'rack', tankIds: ['kitchen'] })).body as {
      id: string
      password: string
    }
    const board = await mqtt.connectAsync(url, { ...options, username: 'rack', password: made.password })
    board.on('error', () => undefined)
    await board.publishAsync('shoal/kitchen/t1/temperature', '24.5', { qos: 1 })
    await board.publishAsync('shoal/hallway/t1/temperature', '24.5', { qos: 1 })
    await until(
      async () => {
        const { refusals, waitingTanks } = (await ask('GET', '/api/refused')).body as {
          refusals: { topic: string; code: string }[]
          waitingTanks: unknown[]
        }
        expect(waitingTanks).toEqual([])
        return refusals.some(
          (one) => one.topic === 'shoal/hallway/t1/temperature' && one.code === 'INTAKE_NOT_ALLOWED'
        )
      },
      { withinMs: 5000, what: 'the refusal of a foreign tank' }
    )
    let isCut = false
    board.on('close', () => {
      isCut = true
    })
    expect((await ask('DELETE', `/api/boards/${made.id}`)).status).toBe(204)
    await until(() => isCut, { withinMs: 5000, what: 'the line of the withdrawn board to be cut' })
    await expect(
      mqtt.connectAsync(url, { ...options, username: 'rack', password: made.password })
    ).rejects.toThrow()
    board.end(true)
  } finally {
    await house.kill('SIGTERM')
    removeDataDir(dataDir)
  }
})

test('an optional field of the profile is cleared with null, a needed one is not', async () => {
  const dataDir = makeDataDir()
  const house = await startHouse({ dataDir })
  try {
    const ask = await house.login()
    await ask('POST', '/api/tanks', kitchen)
    const cleared = await ask('PATCH', '/api/tanks/kitchen', { setpointC: null })
    expect(cleared).toMatchObject({ status: 200 })
    expect((cleared.body as { profile: object }).profile).not.toHaveProperty('setpointC')
    expect((await ask('PATCH', '/api/tanks/kitchen', { volumeL: null })).status).toBe(422)
  } finally {
    await house.kill('SIGTERM')
    removeDataDir(dataDir)
  }
})
