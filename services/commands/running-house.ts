import { randomUUID } from 'node:crypto'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { FastifyBaseLogger } from 'fastify'
import { houseSettingsFrom, listenHost } from '../api/house.ts'
import { type Api, openApi } from '../api/open-api.ts'
import { isLoopback } from '../broker/loopback.ts'
import type { Config } from '../config.ts'
import type { TellLive, WatchDesk } from '../hub/desk-port.ts'
import { makeWatchDesk } from '../hub/watch-desk.ts'
import { makeAdmission } from '../intake/admit.ts'
import type { AlertOffice } from '../notify/alert-office.ts'
import { openRecord } from '../store/open-record.ts'
import type { TankRecord } from '../tank/record.ts'
import { openAlertRooms } from './alert-rooms.ts'
import { type BrokerDoor, openBrokerDoor } from './broker-door.ts'
import { exportCsv, importRows, readFileRows } from './file-traffic.ts'
import { openForeignTopics } from './foreign-topics.ts'
import { openHouseClock } from './house-clock.ts'
import { settleWhenTimeIsKnown } from './known-time.ts'
import type { MachineClock } from './machine-clock.ts'
import { makeMessageWay } from './message-way.ts'
import { makePackWay } from './pack-way.ts'
import { makeRecordRisk } from './record-risk.ts'
import { makeUntimedWay } from './untimed-way.ts'
import { openWatchOff } from './watch-off.ts'

export type RunningHouse = Readonly<{
  urls: readonly string[]
  mqtt: Readonly<{ host: string; port: number; passwordNeeded: boolean }> | null
  /** Where an external broker is; null without one. */
  externalMqtt: string | null
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
  /** What the machine knows of time; then its clock is believed only as far as it can be, and `clock` is not asked. */
  machine?: MachineClock
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
  const { config, log } = plan
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
    const houseClock = plan.machine === undefined ? null : await openHouseClock(plan.machine, record)
    const clock = houseClock?.nowMs ?? plan.clock
    const watchOff = await openWatchOff({
      record,
      clock,
      isTimeKnown: () => houseClock?.isTrusted() ?? true,
      elapsedMs: plan.machine?.upForMs ?? clock
    })
    const listens = await listensOf(config, record)
    let tell: TellLive = () => undefined
    let door: BrokerDoor | null = null
    const rooms = await openAlertRooms({
      config,
      record,
      desk: () => desk,
      httpHost: listens.http,
      broker: () => door,
      clock,
      log
    })
    const risk = makeRecordRisk({
      record,
      dataDir: config.dataDir,
      isTimeKnown: () => houseClock?.isTrusted() ?? true,
      isBrokerUp: () => door?.external?.state().connected ?? true,
      elapsedMs: plan.machine?.upForMs ?? clock
    })
    const watch = makeWatchDesk({
      record,
      clock,
      tell: (event) => {
        tell(event)
        if (event.event === 'alarm') rooms.sayLamp(event.data.tankId)
      },
      newId: randomUUID,
      messages: rooms.office.plan,
      recordRisk: risk.finding,
      ...(plan.virtual === undefined ? {} : { virtual: plan.virtual })
    })
    const foreign = await openForeignTopics({ record, clock })
    const desk: WatchDesk = {
      ...watch,
      tick: async () => {
        await risk.look()
        await watch.tick()
        await watchOff.beat()
      },
      now: (tankId) => {
        const now = watch.now(tankId)
        return now === null ? null : { ...now, watchOff: watchOff.now() }
      },
      tankRemoved: (tankId) => {
        watch.tankRemoved(tankId)
        foreign.tankRemoved(tankId)
      }
    }
    for (const tank of await record.tanks()) await desk.tankAdded(tank.id)
    const onJudgingFailed = (err: unknown): void => log.error({ event: 'judging-failed', err })
    const way = makeMessageWay({
      record,
      desk,
      admission: makeAdmission(),
      foreign,
      onJudgingFailed
    })
    const untimed =
      houseClock === null ? null : makeUntimedWay({ record, way, clock: houseClock, onJudgingFailed })
    const host = listens.mqtt
    const brokerDoor = await openBrokerDoor({
      ...{ config, host, record, desk, foreign, clock, log },
      way: { ...way, ...untimed }
    })
    door = brokerDoor
    opened.push(brokerDoor.close)
    const api = await openApi({
      ...plan,
      clock,
      record,
      desk,
      alerts: rooms.office,
      dashboardDir: dashboardDir(),
      listen: { host: listens.http, port: config.httpPort },
      mqttListen: brokerDoor.builtIn === null ? null : { host, port: brokerDoor.builtIn.port },
      mqttExternal: brokerDoor.external,
      foreign,
      takePack: makePackWay({ way: { ...way, ...untimed }, clock }),
      files: csvFiles(record, clock),
      clockMarks: way.clockMarks,
      refusedClients: brokerDoor.refusedClients,
      boardEnded: (board) => brokerDoor.builtIn?.sendAway(board.name)
    })
    opened.push(api.close)
    tell = api.live.tell
    if (houseClock !== null && untimed !== null)
      opened.push(settleWhenTimeIsKnown({ record, desk, untimed, clock: houseClock, log }))
    opened.push(rooms.start())
    opened.push(startTicking({ desk, office: rooms.office, log, everyMs: plan.tickEveryMs ?? 1000 }))
    return {
      urls: api.urls,
      mqtt: mqttOf(brokerDoor.builtIn, host),
      externalMqtt: brokerDoor.external?.url ?? null,
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

function mqttOf(broker: BrokerDoor['builtIn'], host: string): RunningHouse['mqtt'] {
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
