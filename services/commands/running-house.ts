import { randomUUID } from 'node:crypto'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { FastifyBaseLogger } from 'fastify'
import { makeBoardGate } from '../api/board-gate.ts'
import { houseSettingsFrom, listenHost } from '../api/house.ts'
import { type Api, openApi } from '../api/open-api.ts'
import { makePasswordHashing } from '../api/password-hash.ts'
import type { Broker } from '../broker/broker-port.ts'
import { isLoopback } from '../broker/loopback.ts'
import { openBroker } from '../broker/open-broker.ts'
import type { Config } from '../config.ts'
import type { TellLive, WatchDesk } from '../hub/desk-port.ts'
import { makeWatchDesk } from '../hub/watch-desk.ts'
import { makeAdmission } from '../intake/admit.ts'
import type { AlertOffice } from '../notify/alert-office.ts'
import { openRecord } from '../store/open-record.ts'
import type { Board, TankRecord } from '../tank/record.ts'
import { openAlertRooms } from './alert-rooms.ts'
import { exportCsv, importRows, readFileRows } from './file-traffic.ts'
import { makeMessageWay } from './message-way.ts'

export type RunningHouse = Readonly<{
  urls: readonly string[]
  mqtt: Readonly<{ host: string; port: number; passwordNeeded: boolean }> | null
  needsSetup: boolean
  record: TankRecord
  desk: WatchDesk
  office: AlertOffice
  close: () => Promise<void>
}>

type Plan = Readonly<{
  config: Config
  setupCode: string
  version: string
  log: FastifyBaseLogger
  clock: () => number
  /** Whether the tank is a virtual one, and must say so. */
  virtual?: boolean
  commitWindowMs?: number
  tickEveryMs?: number
  /** The record's thread has died: nothing can be kept any more. */
  onRecordLost: (cause: Error) => void
}>

/** Where the house will listen, before any door is open. */
export async function listensOf(
  config: Config,
  record: TankRecord
): Promise<Readonly<{ http: string; mqtt: string }>> {
  const { letHomeNetworkIn } = houseSettingsFrom(await record.settings())
  return {
    http: listenHost({ configured: config.httpHost, letHomeNetworkIn }),
    mqtt: listenHost({ configured: config.mqttHost, letHomeNetworkIn })
  }
}

/** Opens every room, introduces them to each other, and closes them again in reverse order. */
export async function openRunningHouse(plan: Plan): Promise<RunningHouse> {
  const { config, clock, log } = plan
  const opened: (() => Promise<void>)[] = []
  const closeAll = async (): Promise<void> => {
    for (const close of opened.toReversed()) await close()
  }
  try {
    const record = await openRecord({
      dataDir: config.dataDir,
      onFailure: plan.onRecordLost,
      ...(plan.commitWindowMs === undefined ? {} : { commitWindowMs: plan.commitWindowMs })
    })
    opened.push(() => record.close())
    const listens = await listensOf(config, record)
    let tell: TellLive = () => undefined
    let broker: Broker | null = null
    const rooms = await openAlertRooms({
      config,
      record,
      desk: () => desk,
      httpHost: listens.http,
      broker: () => broker,
      clock,
      log
    })
    const desk: WatchDesk = makeWatchDesk({
      record,
      clock,
      tell: (event) => {
        tell(event)
        if (event.event === 'alarm') rooms.sayLamp(event.data.tankId)
      },
      newId: randomUUID,
      messages: rooms.office.plan,
      ...(plan.virtual === undefined ? {} : { virtual: plan.virtual })
    })
    for (const tank of await record.tanks()) await desk.tankAdded(tank.id)
    const brokerDoor = await openBrokerDoor({ plan, record, desk, host: listens.mqtt })
    broker = brokerDoor.broker
    if (broker !== null) opened.push(broker.close)
    const api = await openApi({
      ...plan,
      record,
      desk,
      alerts: rooms.office,
      dashboardDir: dashboardDir(),
      listen: { host: listens.http, port: config.httpPort },
      mqttListen: brokerDoor.broker === null ? null : { host: listens.mqtt, port: brokerDoor.broker.port },
      files: csvFiles(record, clock),
      clockMarks: brokerDoor.clockMarks,
      refusedClients: () => brokerDoor.refusedClients,
      boardEnded: (board) => brokerDoor.broker?.sendAway(board.name)
    })
    opened.push(api.close)
    tell = api.live.tell
    opened.push(rooms.start())
    opened.push(startTicking({ desk, office: rooms.office, log, everyMs: plan.tickEveryMs ?? 1000 }))
    return {
      urls: api.urls,
      mqtt: mqttOf(brokerDoor.broker, listens.mqtt),
      needsSetup: needsSetup(api),
      record,
      desk,
      office: rooms.office,
      close: closeAll
    }
  } catch (cause) {
    await closeAll()
    throw cause
  }
}

const needsSetup = (api: Api): boolean => api.needsSetup()

function mqttOf(broker: Broker | null, host: string): RunningHouse['mqtt'] {
  return broker === null ? null : { host, port: broker.port, passwordNeeded: !isLoopback(host) }
}

function dashboardDir(): string | null {
  const beside = fileURLToPath(new URL('../../dashboard/', import.meta.url))
  const built = import.meta.url.endsWith('.ts')
    ? fileURLToPath(new URL('../../dist/dashboard/', import.meta.url))
    : beside
  return existsSync(built) ? built : null
}

function csvFiles(record: TankRecord, clock: () => number): Parameters<typeof openApi>[0]['files'] {
  return {
    exportCsv: (ask) => exportCsv(record, ask),
    importCsv: async ({ tankId, text, skipBad, zone, by }) => {
      const content = readFileRows(text, { zone, skipBad })
      const answer = await importRows(record, { tankId, rows: content.rows, by, nowMs: clock() })
      return { ...answer, skipped: content.faults }
    }
  }
}

const mostRefusedClients = 50

async function openBrokerDoor(
  ask: Readonly<{ plan: Plan; record: TankRecord; desk: WatchDesk; host: string }>
): Promise<
  Readonly<{
    broker: Broker | null
    clockMarks: ReturnType<typeof makeMessageWay>['clockMarks']
    refusedClients: { clientId: string; why: string; atMs: number }[]
  }>
> {
  const { plan, record, desk } = ask
  const { config, clock, log } = plan
  const refusedClients: { clientId: string; why: string; atMs: number }[] = []
  const refusedClient = (clientId: string, why: string): void => {
    log.warn({ event: 'board-refused', clientId, why })
    refusedClients.unshift({ clientId, why, atMs: clock() })
    refusedClients.length = Math.min(refusedClients.length, mostRefusedClients)
  }
  const way = makeMessageWay({
    record,
    desk,
    admission: makeAdmission(),
    onJudgingFailed: (err) => log.error({ event: 'judging-failed', err })
  })
  if (config.mqttPort === 0) return { broker: null, clockMarks: way.clockMarks, refusedClients }
  const checkBoard = makeBoardGate({ record, hashing: makePasswordHashing(), clock })
  const boards = new Map<string, Board>()
  const broker = await openBroker({
    host: ask.host,
    port: config.mqttPort,
    allowAnonymous: isLoopback(ask.host),
    authenticate: async ({ name, password, address }) => {
      const board = await checkBoard(name, password, address)
      if (board !== null) boards.set(board.name, board)
      return board !== null
    },
    authorizeTopic: ({ boardName, tankId }) =>
      boardName === null || tankId === null || (boards.get(boardName)?.tankIds.includes(tankId) ?? false),
    onMessage: way.receive,
    onRefused: ({ message, fault }) => {
      way.keepRefusal(message, fault).catch((err: unknown) => log.error({ event: 'refusal-not-kept', err }))
    },
    onConnectionChange: ({ clientId, connected, atMs }) =>
      desk.connectionChanged({ clientId, connected, atMs }),
    onMqtt5Refused: ({ clientId }) =>
      refusedClient(clientId, 'speaks only MQTT 5; set the board to MQTT 3.1.1'),
    onLoginRefused: ({ clientId, why }) => refusedClient(clientId, loginWords[why]),
    log,
    nowMs: clock
  })
  return { broker, clockMarks: way.clockMarks, refusedClients }
}

const loginWords = {
  'no-password': 'came without a name and password; make a board on the House page and give it these',
  'wrong-password': 'its name or password is not right; check both, or make a new board on the House page',
  'too-many-tries': 'too many wrong passwords; it may try again in some minutes',
  'id-taken': 'its client id belongs to another board; give each board an id of its own',
  'cannot-check': 'its password could not be checked just now; it may try again'
} as const

/** The one ticker: judges silence, runs the timers, sends what is due. A failed tick costs that tick only. */
function startTicking(
  ask: Readonly<{ desk: WatchDesk; office: AlertOffice; log: FastifyBaseLogger; everyMs: number }>
): () => Promise<void> {
  let running: Promise<void> = Promise.resolve()
  let isRunning = false
  const timer = setInterval(() => {
    if (isRunning) return
    isRunning = true
    running = ask.desk
      .tick()
      .catch((err: unknown) => ask.log.error({ event: 'tick-failed', err }))
      // Alarms that rang before still have to be told where judging fails.
      .then(ask.office.tick)
      .catch((err: unknown) => ask.log.error({ event: 'telling-failed', err }))
      .finally(() => {
        isRunning = false
      })
  }, ask.everyMs)
  return async () => {
    clearInterval(timer)
    await running
  }
}
