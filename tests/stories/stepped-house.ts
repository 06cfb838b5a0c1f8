import mqtt from 'mqtt'
import { pino } from 'pino'
import { openRunningHouse, type RunningHouse } from '../../services/commands/running-house.ts'
import { readConfig } from '../../services/config.ts'
import { freePort } from '../wire/free-port.ts'
import { type Ask, loginAt, password, until } from '../wire/house-process.ts'

/** The whole house in this process, on real ports and a real disk, under a clock that the story moves. */
export type SteppedHouse = Readonly<{
  url: string
  mqttUrl: string
  ask: Ask
  nowMs: () => number
  advance: (ms: number) => Promise<void>
  /** Publishes one reading at QoS 1 and waits until it was acknowledged. */
  publish: (probe: string, quantity: string, value: number) => Promise<void>
  restart: () => Promise<void>
  close: () => Promise<void>
}>

export async function openSteppedHouse(
  plan: Readonly<{ dataDir: string; startMs: number }>
): Promise<SteppedHouse> {
  let nowMs = plan.startMs
  const httpPort = await freePort()
  const mqttPort = await freePort()
  const config = readConfig({
    HTTP_PORT: String(httpPort),
    MQTT_PORT: String(mqttPort),
    DATA_DIR: plan.dataDir,
    KEEPER_PASSWORD: password
  })
  const url = `http://127.0.0.1:${httpPort}`
  const open = async (): Promise<Readonly<{ house: RunningHouse; board: mqtt.MqttClient; ask: Ask }>> => {
    const house = await openRunningHouse({
      config,
      setupCode: 'TEST-CODE',
      version: '0.0.0',
      log: pino({ level: 'silent' }),
      clock: () => nowMs,
      commitWindowMs: 5,
      // The story moves the clock and ticks by hand.
      tickEveryMs: 3_600_000,
      onRecordLost: (cause) => {
        throw cause
      }
    })
    const board = await mqtt.connectAsync(`mqtt://127.0.0.1:${mqttPort}`, {
      clientId: 'board',
      reconnectPeriod: 0
    })
    return { house, board, ask: await loginAt(url) }
  }
  let open_ = await open()
  const shut = async (): Promise<void> => {
    await open_.board.endAsync(true)
    await open_.house.close()
  }
  return {
    url,
    mqttUrl: `mqtt://127.0.0.1:${mqttPort}`,
    ask: (method, path, body) => open_.ask(method, path, body),
    nowMs: () => nowMs,
    advance: async (ms) => {
      nowMs += ms
      await open_.house.desk.tick()
      await open_.house.office.tick()
    },
    publish: async (probe, quantity, value) => {
      await open_.board.publishAsync(`shoal/kitchen/${probe}/${quantity}`, String(value), { qos: 1 })
      await until(
        async () => {
          const now = (await open_.ask('GET', '/api/tanks/kitchen/now')).body as {
            readings: Record<string, { value: number; atMs: number } | undefined>
          }
          return now.readings[quantity]?.value === value
        },
        { withinMs: 5000, what: `${quantity} ${value} to be judged` }
      )
    },
    restart: async () => {
      await shut()
      open_ = await open()
    },
    close: shut
  }
}
