import type { FastifyBaseLogger } from 'fastify'
import { judgeHealth } from '../api/health.ts'
import { houseSettingsFrom } from '../api/house.ts'
import { homeAddress, isLoopbackHost } from '../api/network-address.ts'
import type { Broker } from '../broker/broker-port.ts'
import { alarmTopic } from '../broker/own-topics.ts'
import type { Config } from '../config.ts'
import type { WatchDesk } from '../hub/desk-port.ts'
import { upkeepOf } from '../hub/upkeep.ts'
import { openAddressBook } from '../notify/address-book.ts'
import { type AlertOffice, makeAlertOffice } from '../notify/alert-office.ts'
import { makeLamp } from '../notify/lamp.ts'
import { startMinutes } from '../notify/minute-ticker.ts'
import type { TankRecord } from '../tank/record.ts'

type Given = Readonly<{
  config: Config
  record: TankRecord
  /** Asked for only once it is there: the desk is given the plan of this room. */
  desk: () => WatchDesk
  /** Where the page listens. */
  httpHost: string
  broker: () => Pick<Broker, 'publishRetained'> | null
  clock: () => number
  log: FastifyBaseLogger
}>

export type AlertRooms = Readonly<{
  office: AlertOffice
  /** Every tank’s lamp is told what is true now, as far as it is not known. */
  sayLamps: () => Promise<void>
  sayLamp: (tankId: string) => void
  /** Starts the minute tick; to be stopped before the record closes. */
  start: () => () => Promise<void>
}>

/** Opens the room that tells people, and introduces it to the others. */
export async function openAlertRooms(given: Given): Promise<AlertRooms> {
  const { config, record, clock, log } = given
  const desk: Pick<WatchDesk, 'now' | 'alarms' | 'act' | 'health'> = {
    now: (tankId) => given.desk().now(tankId),
    alarms: (ask) => given.desk().alarms(ask),
    act: (ask) => given.desk().act(ask),
    health: () => given.desk().health()
  }
  const startedAtMs = clock()
  const book = await openAddressBook(record)
  const office = makeAlertOffice({
    record,
    desk,
    book,
    mailServer: config.mailServer,
    publicUrl: config.publicUrl,
    linkBase: () => config.publicUrl ?? homeUrl(given.httpHost, config.httpPort),
    wording: async () => houseSettingsFrom(await record.settings()),
    isWell: async () => (await judgeHealth({ record, desk, nowMs: clock(), startedAtMs })).healthy,
    upkeep: () => upkeepLines(record, clock()),
    clock,
    random: Math.random,
    log
  })
  const lamp = makeLamp({
    tankIds: async () => (await record.tanks()).map(({ id }) => id),
    alarms: (tankId) => desk.now(tankId)?.alarms ?? null,
    publish: async (tankId, payload) => given.broker()?.publishRetained(alarmTopic(tankId), payload)
  })
  const onFault = (err: unknown): void => log.error({ event: 'telling-failed', err })
  const minute = async (): Promise<void> => {
    await lamp.sayAll()
    await office.minute()
  }
  return {
    office,
    sayLamps: lamp.sayAll,
    sayLamp: (tankId) => void lamp.say(tankId).catch(onFault),
    start: () => {
      minute().catch(onFault)
      const stop = startMinutes(minute, onFault)
      return async () => {
        await stop()
        await office.settled()
      }
    }
  }
}

/** Where a telephone in the house reaches the page; null while only this machine does. */
function homeUrl(host: string, port: number): string | null {
  if (isLoopbackHost(host)) return null
  const address = host === '0.0.0.0' || host === '::' ? homeAddress() : host
  if (address === null) return null
  return `http://${address.includes(':') ? `[${address}]` : address}:${port}`
}

async function upkeepLines(record: TankRecord, nowMs: number): Promise<readonly string[]> {
  const lines: string[] = []
  for (const tank of await record.tanks())
    for (const { isDue, title } of await upkeepOf(record, { tank, nowMs }))
      if (isDue) lines.push(`${tank.profile.name}: ${title}`)
  return lines
}
