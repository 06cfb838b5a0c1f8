import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { type AddressInfo, createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { connectAsync, type MqttClient } from 'mqtt'
import { afterEach, expect, test } from 'vitest'
import { parseMessage } from '../../services/intake/parse-message.ts'
import { end, makeMosquitto, mosquittoPath, until, whyNoMosquitto } from './mosquitto.ts'

const withBroker = mosquittoPath === null ? test.skip : test
const name = (title: string): string => (mosquittoPath === null ? `${title} (${whyNoMosquitto})` : title)

const toEnd: (() => Promise<void> | void)[] = []
afterEach(async () => {
  for (const close of toEnd.splice(0).toReversed()) await close()
})

const bytes = '67 01 4b 46 7f ff 09 10 3b'
const sensors = ['28-0316a2794b01', '28-0316a2794b02', '28-0316a2794b03']

/** A folder of sensor files as the kernel shows them; the last two sensors are broken in their own ways. */
function makeBus() {
  const folder = mkdtempSync(join(tmpdir(), 'pi-bus-'))
  toEnd.push(() => rmSync(folder, { recursive: true, force: true }))
  const put = (sensor: string, text: string): void => {
    mkdirSync(join(folder, sensor), { recursive: true })
    writeFileSync(join(folder, sensor, 'w1_slave'), text)
  }
  for (const [at, sensor] of sensors.entries())
    put(sensor, `${bytes} : crc=3b YES\n${bytes} t=${24_000 + at * 62}\n`)
  put('28-0316a2794bf0', '50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=85000\n')
  put('28-0316a2794bf1', `${bytes} : crc=00 NO\n${bytes} t=22437\n`)
  return { folder, waitingPath: join(folder, 'waiting.jsonl') }
}

function startPublisher(bus: ReturnType<typeof makeBus>, url: string): ChildProcess & { said: () => string } {
  const child = spawn(process.execPath, ['firmware-notes/pi-publisher/publisher.mjs'], {
    env: {
      PATH: process.env.PATH ?? '',
      TANK: 'kitchen',
      MQTT_URL: url,
      W1_FOLDER: bus.folder,
      WAITING_FILE: bus.waitingPath,
      INTERVAL_S: '1',
      CLOCK: 'trusted',
      CLIENT_ID: 'pi-under-test',
      PROBES: `${sensors[0]}=t1`
    },
    stdio: ['ignore', 'pipe', 'pipe']
  })
  let text = ''
  child.stdout.on('data', (part) => {
    text += String(part)
  })
  child.stderr.on('data', (part) => {
    text += String(part)
  })
  toEnd.push(() => end(child, 'SIGKILL'))
  return Object.assign(child, { said: () => text })
}

type Heard = Readonly<{ topic: string; payload: string }>

/** A listener that the broker keeps messages for while it is away. */
async function listen(url: string) {
  const heard: Heard[] = []
  const client: MqttClient = await connectAsync(url, {
    clientId: 'watch',
    clean: false,
    reconnectPeriod: 100
  })
  client.on('message', (topic, payload) => heard.push({ topic, payload: payload.toString() }))
  await client.subscribeAsync('shoal/#', { qos: 1 })
  toEnd.push(() => client.endAsync(true))
  return heard
}

async function brokerAt() {
  const broker = await makeMosquitto()
  toEnd.push(() => broker.close())
  return broker
}

const keyOf = (message: Heard): string =>
  `${message.topic} ${(JSON.parse(message.payload) as { time: string }).time}`
const linesOf = (path: string): readonly Heard[] =>
  (existsSync(path) ? readFileSync(path, 'utf8') : '')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Heard)

/** Every reading arrived, and what arrived twice is word for word the same. */
function expectAll(heard: readonly Heard[], sent: readonly Heard[]): void {
  const byKey = new Map<string, Set<string>>()
  for (const message of heard)
    byKey.set(keyOf(message), (byKey.get(keyOf(message)) ?? new Set()).add(message.payload))
  expect(sent.filter((message) => byKey.get(keyOf(message))?.has(message.payload) !== true)).toEqual([])
  expect([...byKey.values()].filter((payloads) => payloads.size > 1)).toEqual([])
}

/** A bus with as many readings waiting, half a minute apart, as a long time without the broker leaves behind. */
function busWithQueue(length: number) {
  const bus = makeBus()
  const sent = Array.from(
    { length },
    (_, at): Heard => ({
      topic: 'shoal/kitchen/t1/temperature',
      payload: JSON.stringify({
        value: 24 + (at % 16) / 16,
        unit: 'Cel',
        time: new Date(Date.now() - (length - at) * 30_000).toISOString()
      })
    })
  )
  writeFileSync(bus.waitingPath, sent.map((message) => `${JSON.stringify(message)}\n`).join(''))
  return { bus, sent }
}

/** A broker that runs, and what arrives there. */
async function listeningBroker() {
  const broker = await brokerAt()
  await broker.start()
  return { broker, heard: await listen(broker.url) }
}

test('the publisher is type-checked as strictly as everything else', () => {
  const check = spawnSync(
    process.execPath,
    ['node_modules/typescript/bin/tsc', '--noEmit', '-p', 'firmware-notes/pi-publisher/tsconfig.json'],
    { encoding: 'utf8' }
  )
  expect(check.stdout).toBe('')
  expect(check.status).toBe(0)
}, 60_000)

test('a wrong setting ends the publisher with exit code 2 and one line that names it', () => {
  const run = spawnSync(process.execPath, ['firmware-notes/pi-publisher/publisher.mjs'], {
    encoding: 'utf8',
    env: { PATH: process.env.PATH ?? '' }
  })
  expect(run.status).toBe(2)
  expect(run.stderr).toMatch(/^TANK must [^\n]+\n$/)
})

withBroker(
  name('good sensors are published with their time and read by the intake, broken ones are named instead'),
  async () => {
    const { broker, heard } = await listeningBroker()
    const bus = makeBus()
    const publisher = startPublisher(bus, broker.url)
    await until('two rounds of three sensors', () => heard.length >= 6)
    const fields = heard.map((message) => {
      const parsed = parseMessage({ topic: message.topic, payload: Buffer.from(message.payload) })
      if (parsed.kind !== 'readings') throw new Error(`not read: ${message.topic} ${message.payload}`)
      return { tankId: parsed.tankId, ...parsed.readings[0] }
    })
    expect(new Set(fields.map((each) => each.probe))).toEqual(new Set(['t1', sensors[1], sensors[2]]))
    expect(fields[0]).toMatchObject({ tankId: 'kitchen', probe: 't1', quantity: 'temperature', value: 24 })
    for (const each of fields) expect(Math.abs((each.deviceAtMs ?? 0) - Date.now())).toBeLessThan(60_000)
    expect(publisher.said()).toContain('28-0316a2794bf0: power-on-value')
    expect(publisher.said()).toContain('28-0316a2794bf1: checksum-wrong')
    await until('nothing waits', () => linesOf(bus.waitingPath).length === 0)
    await end(publisher, 'SIGTERM')
    expect(publisher.exitCode).toBe(0)
  },
  60_000
)

withBroker(
  name('readings taken while the broker is away arrive later, although the publisher was killed meanwhile'),
  async () => {
    const { broker, heard } = await listeningBroker()
    await broker.stop()
    const bus = makeBus()
    const first = startPublisher(bus, broker.url)
    await until('four rounds wait', () => linesOf(bus.waitingPath).length >= 12)
    await end(first, 'SIGKILL')
    const taken = linesOf(bus.waitingPath)
    startPublisher(bus, broker.url)
    await until('the second one waits too', () => linesOf(bus.waitingPath).length >= taken.length + 3)
    const waiting = linesOf(bus.waitingPath)
    expect(waiting.slice(0, taken.length)).toEqual(taken)
    expect(heard).toEqual([])
    await broker.start()
    await until('nothing waits', () => linesOf(bus.waitingPath).length === 0, 40_000)
    await until('all have arrived', () => new Set(heard.map(keyOf)).size >= waiting.length)
    expectAll(heard, waiting)
  },
  90_000
)

withBroker(
  name('a long queue loses nothing when publisher and broker go away in the middle of it'),
  async () => {
    const { broker, heard } = await listeningBroker()
    const { bus, sent } = busWithQueue(3000)
    const first = startPublisher(bus, broker.url)
    await until('some have arrived', () => heard.length >= 200)
    await end(first, 'SIGKILL')
    const atKill = heard.length
    const second = startPublisher(bus, broker.url)
    await until('more have arrived', () => heard.length >= atKill + 400)
    await broker.stop()
    expect(new Set(heard.map(keyOf)).size).toBeLessThan(3000)
    await broker.start()
    await until('nothing waits', () => linesOf(bus.waitingPath).length === 0, 60_000)
    await until('all have arrived', () => new Set(heard.map(keyOf)).size >= 3000, 60_000)
    expectAll(heard, sent)
    await end(second, 'SIGTERM')
  },
  150_000
)

withBroker(
  name('told to end in the middle of a long queue it ends, and what was not acknowledged waits'),
  async () => {
    const { broker, heard } = await listeningBroker()
    const { bus, sent } = busWithQueue(4000)
    for (let round = 1; round <= 3; round += 1) {
      const publisher = startPublisher(bus, broker.url)
      const before = heard.length
      await until('some more have arrived', () => heard.length >= before + 100)
      await end(publisher, 'SIGTERM')
      expect(publisher.exitCode).toBe(0)
    }
    expect(linesOf(bus.waitingPath).length).toBeGreaterThan(0)
    expectAll([...heard, ...linesOf(bus.waitingPath)], sent)
  },
  90_000
)

test('a broker that takes messages and acknowledges none is left and tried anew, and all goes on waiting', async () => {
  let connections = 0
  // MQTT 3.1.1, 3.2: CONNACK, session not present, accepted. It never sends a PUBACK (3.4).
  const mute = createServer((socket) => {
    connections += 1
    socket.once('data', () => socket.write(Buffer.from([0x20, 0x02, 0x00, 0x00])))
    socket.on('error', () => undefined)
  })
  await new Promise<void>((resolve) => mute.listen(0, '127.0.0.1', resolve))
  const { port } = mute.address() as AddressInfo
  const { bus, sent } = busWithQueue(50)
  const script = `
    import { startSender } from './firmware-notes/pi-publisher/sender.mjs'
    import { openWaitingFile } from './firmware-notes/pi-publisher/waiting-file.mjs'
    const waiting = openWaitingFile({ path: ${JSON.stringify(bus.waitingPath)}, most: 1000 })
    startSender({ url: 'mqtt://127.0.0.1:${port}', clientId: 'pi', waiting, say: () => {}, answerWithinMs: 200 })
  `
  const sender = spawn(process.execPath, ['--input-type=module', '-e', script], { stdio: 'inherit' })
  try {
    await until('it has come a third time', () => connections >= 3)
    expect(linesOf(bus.waitingPath)).toEqual(sent)
  } finally {
    await end(sender, 'SIGKILL')
    mute.close()
  }
}, 60_000)
