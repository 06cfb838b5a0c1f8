import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import mqtt from 'mqtt'
import { readConfig } from '../config.ts'
import { flagOnArrival } from '../intake/quality-flag.ts'
import { type DemoLive, demoLive, demoPast } from '../rehearsal/demo-scenario.ts'
import { demoSeed } from '../rehearsal/demo-tank.ts'
import { openRecord } from '../store/open-record.ts'
import { readWords } from './arguments.ts'
import { checkBeforeStart } from './preflight.ts'
import { openRunningHouse, type RunningHouse } from './running-house.ts'
import { banner, makeLog, makeStopper, ownVersion } from './start.ts'

const demoPassword = 'look around'
const loopback = '127.0.0.1'
const publishEveryMs = 10_000

/** The service in a throw-away folder, with a virtual tank that publishes over real MQTT. */
export async function demo(words: readonly string[]): Promise<number> {
  readWords(words, { positionals: [], options: {} })
  const asked = readConfig(process.env)
  const dataDir = mkdtempSync(join(tmpdir(), 'shoalkeeper-demo-'))
  const keeperPassword = asked.keeperPassword ?? demoPassword
  // A play-thing does not open itself to the network, whatever the environment says.
  const config = {
    ...asked,
    dataDir,
    keeperPassword,
    httpHost: loopback,
    mqttHost: loopback,
    // Nor does it publish at anybody's broker: a virtual tank among real ones would be believed.
    mqttBroker: null,
    mqttPort: asked.mqttBroker === null ? asked.mqttPort : 1883
  }
  try {
    await checkBeforeStart({
      dataDir,
      listens: [
        { host: loopback, port: config.httpPort, variable: 'HTTP_PORT' },
        { host: loopback, port: config.mqttPort, variable: 'MQTT_PORT' }
      ]
    })
    const nowMs = Date.now()
    await fillPast(dataDir, nowMs)
    const stopped = makeStopper()
    const version = ownVersion()
    const house = await openRunningHouse({
      config,
      setupCode: '',
      version,
      // Who looks around reads a banner, not a log; who asks for one by LOG_LEVEL gets it.
      log: makeLog((process.env.LOG_LEVEL ?? '') === '' ? 'warn' : config.logLevel),
      clock: Date.now,
      virtual: true,
      onRecordLost: stopped.fail
    })
    const stopPublishing = await publishLive(house, demoLive({ nowMs, seed: demoSeed }), nowMs)
    const about = `a virtual tank to look around with, gone when you stop it; the password is "${keeperPassword}"`
    process.stdout.write(banner({ house, setupCode: '', version, dataDir, about }))
    return await stopped.until({ ...house, close: () => stopPublishing().then(house.close) })
  } finally {
    rmSync(dataDir, { recursive: true, force: true })
  }
}

/** Three weeks of readings, tests and events, in the record before the house opens. */
async function fillPast(dataDir: string, nowMs: number): Promise<void> {
  const past = demoPast({ nowMs, seed: demoSeed })
  const { tankId } = past
  const record = await openRecord({ dataDir })
  try {
    await record.addTank({ id: tankId, profile: past.profile, atMs: past.readings[0]?.atMs ?? nowMs })
    await record.importAll({
      tankId,
      readings: past.readings.map((reading) => ({
        ...reading,
        tankId,
        arrivedAtMs: reading.atMs,
        clock: 'device' as const,
        ...flagOnArrival(reading)
      })),
      tests: past.tests.map((test) => ({ ...test, tankId, by: 'keeper', atMs: test.takenAtMs })),
      events: past.events.map((event) => ({ ...event, tankId, by: 'keeper', enteredAtMs: event.atMs }))
    })
  } finally {
    await record.close()
  }
}

/** Two boards of the virtual tank, at the pace of a real one; what the keeper enters reaches its water. */
async function publishLive(
  house: RunningHouse,
  tank: DemoLive,
  sinceMs: number
): Promise<() => Promise<void>> {
  await house.desk.entriesChanged({ tankId: tank.tankId, fromMs: 0 })
  if (house.mqtt === null) return async () => undefined
  const client = await mqtt.connectAsync(`mqtt://${loopback}:${house.mqtt.port}`, {
    clientId: 'virtual-tank'
  })
  let seenMs = sinceMs
  const publish = async (): Promise<void> => {
    const atMs = Date.now()
    for (const event of await house.record.events({ tankId: tank.tankId, fromMs: seenMs + 1 })) {
      tank.enter(event)
      seenMs = Math.max(seenMs, event.atMs)
    }
    for (const { probe, quantity, value } of tank.readingsAt(atMs)) {
      const payload = JSON.stringify({ value, time: atMs / 1000 })
      await client.publishAsync(`shoal/${tank.tankId}/${probe}/${quantity}`, payload, { qos: 1 })
    }
  }
  const tell = (cause: unknown): boolean =>
    process.stderr.write(`the virtual tank missed a reading: ${String(cause)}\n`)
  await publish()
  const timer = setInterval(() => void publish().catch(tell), publishEveryMs)
  return async () => {
    clearInterval(timer)
    await client.endAsync(true)
  }
}
