import { randomBytes } from 'node:crypto'
import type { FastifyBaseLogger } from 'fastify'
import { makeBoardGate } from '../api/board-gate.ts'
import { makePasswordHashing } from '../api/password-hash.ts'
import type { Broker, ConnectionChange } from '../broker/broker-port.ts'
import { type ExternalState, openExternalBroker } from '../broker/external-broker.ts'
import { makeExternalEar } from '../broker/external-ear.ts'
import { isLoopback } from '../broker/loopback.ts'
import { openBroker } from '../broker/open-broker.ts'
import type { Config, MqttBroker } from '../config.ts'
import type { WatchDesk } from '../hub/desk-port.ts'
import type { Board, TankRecord } from '../tank/record.ts'
import type { ForeignTopics } from './foreign-topics.ts'
import type { makeMessageWay } from './message-way.ts'

type Ask = Readonly<{
  config: Config
  host: string
  record: TankRecord
  desk: Pick<WatchDesk, 'connectionChanged'>
  way: Pick<ReturnType<typeof makeMessageWay>, 'receive' | 'keepRefusal'>
  foreign: ForeignTopics
  clock: () => number
  log: FastifyBaseLogger
}>
export type RefusedClient = Readonly<{ clientId: string; why: string; atMs: number }>

/** The way by which boards come in: the built-in broker, one that somebody else runs, or none. */
export type BrokerDoor = Readonly<{
  builtIn: Broker | null
  external: Readonly<{ url: string; state: () => ExternalState }> | null
  publishRetained: (topic: string, payload: string) => Promise<void>
  refusedClients: () => readonly RefusedClient[]
  close: () => Promise<void>
}>

export async function openBrokerDoor(ask: Ask): Promise<BrokerDoor> {
  const { config } = ask
  if (config.mqttBroker !== null) return openExternalDoor(ask, config.mqttBroker)
  return config.mqttPort === 0 ? noDoor : openBuiltInDoor(ask)
}

const noDoor: BrokerDoor = {
  builtIn: null,
  external: null,
  publishRetained: async () => undefined,
  refusedClients: () => [],
  close: async () => undefined
}

const mostRefusedClients = 50

async function openBuiltInDoor(ask: Ask): Promise<BrokerDoor> {
  const { config, record, desk, way, foreign, clock, log } = ask
  const refusedClients: RefusedClient[] = []
  const refusedClient = (clientId: string, why: string): void => {
    log.warn({ event: 'board-refused', clientId, why })
    refusedClients.unshift({ clientId, why, atMs: clock() })
    refusedClients.length = Math.min(refusedClients.length, mostRefusedClients)
  }
  const checkBoard = makeBoardGate({ record, hashing: makePasswordHashing(), clock })
  const boards = new Map<string, Board>()
  /** A foreign topic belongs to the tanks it is assigned to; one that is not, to nobody. */
  const mayUse = (board: Board | undefined, topic: string, tankId: string | null): boolean =>
    (tankId === null ? foreign.of(topic).map((one) => one.tankId) : [tankId]).every(
      (id) => board?.tankIds.includes(id) ?? false
    )
  const broker = await openBroker({
    host: ask.host,
    port: config.mqttPort,
    allowAnonymous: isLoopback(ask.host),
    authenticate: async ({ name, password, address }) => {
      const board = await checkBoard(name, password, address)
      if (board !== null) boards.set(board.name, board)
      return board !== null
    },
    authorizeTopic: ({ boardName, topic, tankId }) =>
      boardName === null || mayUse(boards.get(boardName), topic, tankId),
    onMessage: way.receive,
    onRefused: ({ message, fault }) => {
      way.keepRefusal(message, fault).catch((err: unknown) => log.error({ event: 'refusal-not-kept', err }))
    },
    onConnectionChange: tellerOf(desk),
    onMqtt5Refused: ({ clientId }) =>
      refusedClient(clientId, 'speaks only MQTT 5; set the board to MQTT 3.1.1'),
    onLoginRefused: ({ clientId, why }) => refusedClient(clientId, loginWords[why]),
    log,
    nowMs: clock
  })
  return {
    builtIn: broker,
    external: null,
    publishRetained: broker.publishRetained,
    refusedClients: () => refusedClients,
    close: broker.close
  }
}

/** Tells the desk who came and who was lost. That the house itself is closing is no loss of a board. */
const tellerOf =
  (desk: Ask['desk']) =>
  ({ clientId, connected, why, atMs }: ConnectionChange): void => {
    if (why !== 'closing') desk.connectionChanged({ clientId, connected, atMs })
  }

const loginWords = {
  'no-password': 'came without a name and password; make a board on the House page and give it these',
  'wrong-password': 'its name or password is not right; check both, or make a new board on the House page',
  'too-many-tries': 'too many wrong passwords; it may try again in some minutes',
  'id-taken': 'its client id belongs to another board; give each board an id of its own',
  'cannot-check': 'its password could not be checked just now; it may try again'
} as const

/** Under this name the record keeps by which client id the external broker knows it. */
const clientIdSetting = 'mqtt.clientId'

async function ownClientId(record: TankRecord): Promise<string> {
  const kept = (await record.settings())[clientIdSetting]
  if (typeof kept === 'string') return kept
  // 23 characters at most, letters and digits: what every broker of MQTT 3.1.1 must take (MQTT-3.1.3-5).
  const made = `shoalkeeper${randomBytes(5).toString('hex')}`
  await record.putSettings({ [clientIdSetting]: made })
  return made
}

async function openExternalDoor(ask: Ask, address: MqttBroker): Promise<BrokerDoor> {
  const { desk, way, foreign, log, clock } = ask
  const clientId = await ownClientId(ask.record)
  const topics = (): string[] => [...new Set(foreign.assignments().map(({ topic }) => topic))]
  const broker = openExternalBroker({
    address,
    clientId,
    topics: topics(),
    onMessage: way.receive,
    onConnectionChange: tellerOf(desk),
    log,
    nowMs: clock
  })
  const ear = makeExternalEar({
    address,
    clientId,
    // An assigned topic comes on the line that keeps.
    hear: (message) => {
      if (foreign.of(message.topic).length === 0) foreign.hear(message)
    }
  })
  foreign.onChange(() => {
    broker.setTopics(topics())
    ear.want(foreign.isListening)
  })
  return {
    builtIn: null,
    external: { url: address.url, state: broker.state },
    publishRetained: broker.publishRetained,
    refusedClients: () => [],
    close: async () => {
      ear.close()
      await broker.close()
    }
  }
}
