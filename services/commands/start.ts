import { randomInt } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { pino } from 'pino'
import { readConfig } from '../config.ts'
import { openRecord } from '../store/open-record.ts'
import { readWords } from './arguments.ts'
import { realMachineClock } from './machine-clock.ts'
import { checkBeforeStart } from './preflight.ts'
import { listensOf, openRunningHouse, type RunningHouse } from './running-house.ts'
import { startServiceWatchdog } from './service-watchdog.ts'

/** Starts the whole service and keeps it running until it is told to stop. */
export async function start(words: readonly string[]): Promise<number> {
  readWords(words, { positionals: [], options: {} })
  const config = readConfig(process.env)
  await checkBeforeStart({ dataDir: config.dataDir, listens: [] })
  const early = await openRecord({ dataDir: config.dataDir })
  const hosts = await listensOf(config, early).finally(() => early.close())
  await checkBeforeStart({
    dataDir: config.dataDir,
    listens: [
      { host: hosts.http, port: config.httpPort, variable: 'HTTP_PORT' },
      { host: hosts.mqtt, port: config.mqttPort, variable: 'MQTT_PORT' }
    ]
  })
  const setupCode = newSetupCode()
  const version = ownVersion()
  const stopped = makeStopper()
  const log = makeLog(config.logLevel)
  const house = await openRunningHouse({
    config,
    setupCode,
    version,
    log,
    clock: Date.now,
    machine: realMachineClock(),
    onRecordLost: stopped.fail
  })
  const stopWatchdog = startServiceWatchdog({
    environment: process.env,
    health: house.desk.health,
    clock: Date.now,
    onFault: (err) => log.warn({ event: 'watchdog-not-told', err })
  })
  process.stdout.write(banner({ house, setupCode, version, dataDir: config.dataDir }))
  return stopped.until(house).finally(stopWatchdog)
}

/** Log lines are JSON on standard error, so that standard output stays readable. */
export const makeLog = (level: string) => pino({ level }, pino.destination(2))

/** Answers when a signal asks to stop, or the record is lost; a close that hangs is cut off after ten seconds. */
export function makeStopper(): Readonly<{
  fail: (cause: Error) => void
  until: (house: RunningHouse) => Promise<number>
}> {
  let end: (code: number) => void = () => undefined
  const ended = new Promise<number>((done) => {
    end = done
  })
  return {
    fail: (cause) => {
      process.stderr.write(
        `RECORD_FAILED: ${cause.message}; the watch stops, start it again once the disk is well\n`
      )
      end(1)
    },
    until: async (house) => {
      process.once('SIGINT', () => end(0))
      process.once('SIGTERM', () => end(0))
      const code = await ended
      setTimeout(() => process.exit(1), 10_000).unref()
      await house.close()
      return code
    }
  }
}

/** Eight characters that no one mistakes for each other when typing them from a screen. */
export function newSetupCode(): string {
  const letters = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789'
  const pick = (count: number): string =>
    Array.from({ length: count }, () => letters[randomInt(letters.length)] ?? 'A').join('')
  return `${pick(4)}-${pick(4)}`
}

export function ownVersion(): string {
  const beside = import.meta.url.endsWith('.ts') ? '../../package.json' : '../../../package.json'
  const parsed = JSON.parse(readFileSync(new URL(beside, import.meta.url), 'utf8')) as { version: string }
  return parsed.version
}

/** What a person in front of the terminal needs to know. */
export function banner(
  told: Readonly<{ house: RunningHouse; setupCode: string; version: string; dataDir: string; about?: string }>
): string {
  const { house } = told
  const mqtt = house.mqtt
  const lines = [
    `Shoalkeeper ${told.version}${told.about === undefined ? '' : `: ${told.about}`}`,
    '',
    ...house.urls.map((url, at) => `${at === 0 ? 'Dashboard   ' : '            '} ${url}`),
    house.externalMqtt !== null
      ? `Boards       through ${house.externalMqtt}  topic shoal/<tank>/<probe>/<quantity>, QoS 1; that broker says who may publish`
      : mqtt === null
        ? 'Boards       none: the built-in broker is off (MQTT_PORT=0)'
        : `Boards       mqtt://${mqtt.host}:${mqtt.port}  topic shoal/<tank>/<probe>/<quantity>, QoS 1, ${
            mqtt.passwordNeeded
              ? 'with the name and password of a board (House page)'
              : 'from this machine, no password'
          }`,
    ...(house.needsSetup
      ? [
          `Set-up code  ${told.setupCode}  (once, on the set-up page)`,
          `Begin here   ${house.urls[0] ?? ''}/setup#${told.setupCode}`
        ]
      : []),
    `Record       ${told.dataDir}`,
    '',
    'Closing this terminal stops the watch: nobody watches then. README.md shows how to keep it running.',
    ''
  ]
  return `${lines.join('\n')}\n`
}
