import mqtt from 'mqtt'
import { pino } from 'pino'
import type { MachineClock } from '../../services/commands/machine-clock.ts'
import { openRunningHouse, type RunningHouse } from '../../services/commands/running-house.ts'
import { readConfig } from '../../services/config.ts'
import { freePort } from '../wire/free-port.ts'
import { type Ask, loginAt, password, sendCsvTo } from '../wire/house-process.ts'

/** A machine whose two clocks the story moves. */
export type StoryMachine = {
  wallMs: number
  monotonicMs: number
  bootId: string
  isSynchronised: boolean
  builtAtMs: number
}

/** The whole house on real ports and a real disk, with boards of the story's own. */
export type TimedHouse = Readonly<{
  ask: Ask
  /** A session of its own: one that nobody used for weeks has ended. */
  login: () => Promise<Ask>
  /** Acknowledged when it resolves. */
  publish: (topic: string, payload: unknown, board?: string) => Promise<void>
  /** The line of a board breaks. */
  lose: (board: string) => Promise<void>
  tick: () => Promise<void>
  /** Hands the house a CSV file, as the import page would. */
  importCsv: (tankId: string, text: string) => Promise<void>
  close: () => Promise<void>
}>

export async function openTimedHouse(
  plan: Readonly<{ dataDir: string; clock: () => number; machine?: StoryMachine }>
): Promise<TimedHouse> {
  const httpPort = await freePort()
  const mqttPort = await freePort()
  const config = readConfig({
    HTTP_PORT: String(httpPort),
    MQTT_PORT: String(mqttPort),
    DATA_DIR: plan.dataDir,
    KEEPER_PASSWORD: password
  })
  const house: RunningHouse = await openRunningHouse({
    config,
    setupCode: 'TEST-CODE',
    version: '0.0.0',
    log: pino({ level: 'silent' }),
    clock: plan.clock,
    ...(plan.machine === undefined ? {} : { machine: machineOf(plan.machine) }),
    commitWindowMs: 2,
    // The story moves the clock and ticks by hand.
    tickEveryMs: 3_600_000,
    onRecordLost: (cause) => {
      throw cause
    }
  })
  const url = `http://127.0.0.1:${httpPort}`
  const boards = new Map<string, Promise<mqtt.MqttClient>>()
  const boardOf = (name: string): Promise<mqtt.MqttClient> => {
    const board =
      boards.get(name) ??
      mqtt.connectAsync(`mqtt://127.0.0.1:${mqttPort}`, { clientId: name, reconnectPeriod: 0 })
    boards.set(name, board)
    return board
  }
  return {
    ask: await loginAt(url),
    login: () => loginAt(url),
    publish: async (topic, payload, board = 'board') => {
      const text = typeof payload === 'string' ? payload : JSON.stringify(payload)
      await (await boardOf(board)).publishAsync(topic, text, { qos: 1 })
    },
    lose: async (name) => {
      await (await boardOf(name)).endAsync(true)
      boards.delete(name)
    },
    tick: house.desk.tick,
    importCsv: (tankId, text) => sendCsvTo(url, tankId, text),
    close: async () => {
      // The boards are still on the line when the house closes, as they would be.
      await house.close()
      for (const board of boards.values()) await (await board).endAsync(true)
    }
  }
}

function machineOf(machine: StoryMachine): MachineClock {
  return {
    look: () => ({ wallMs: machine.wallMs, monotonicMs: machine.monotonicMs }),
    bootId: machine.bootId,
    upForMs: () => machine.monotonicMs,
    isSynchronised: () => machine.isSynchronised,
    builtAtMs: machine.builtAtMs
  }
}

export type SeriesPoint = {
  atMs: number
  mean: number | null
  min: number | null
  max: number | null
  count: number
  countBad: number
  flag: number
}
export async function seriesOf(
  ask: Ask,
  quantity: string,
  span: Readonly<{ fromMs: number; toMs: number; probe?: string }>
): Promise<readonly SeriesPoint[]> {
  const probe = span.probe === undefined ? '' : `&probe=${span.probe}`
  const answer = await ask(
    'GET',
    `/api/tanks/kitchen/series/${quantity}?from=${span.fromMs}&to=${span.toMs}&points=5000${probe}`
  )
  if (answer.status !== 200) throw new Error(`series: ${JSON.stringify(answer.body)}`)
  return (answer.body as { points: SeriesPoint[] }).points
}
export const countOf = (points: readonly SeriesPoint[]): number =>
  points.reduce((sum, { count }) => sum + count, 0)
