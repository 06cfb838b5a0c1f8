import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { connectAsync } from 'mqtt'
import { afterEach, describe, expect, test } from 'vitest'
import type { BrokerMessage, ConnectionChange } from '../../services/broker/broker-port.ts'
import {
  type ExternalBroker,
  type ExternalOptions,
  openExternalBroker
} from '../../services/broker/external-broker.ts'
import { reconnectDelayMs } from '../../services/broker/reconnect-delay.ts'
import { hasMosquitto, type Mosquitto, openMosquitto, publishAll, withMosquitto } from './mosquitto.ts'
import { closeAll, openTestBroker, until } from './test-broker.ts'

const quiet = () => undefined
const opened: { close: () => unknown }[] = []
afterEach(async () => {
  for (const { close } of opened.splice(0).reverse()) await close()
  await closeAll()
})

async function mosquitto(plan: Parameters<typeof openMosquitto>[0] = {}): Promise<Mosquitto> {
  const made = await openMosquitto(plan)
  opened.push({ close: made.remove })
  return made
}

type Ear = Readonly<{ broker: ExternalBroker; messages: BrokerMessage[]; changes: ConnectionChange[] }>
function listen(url: string, options: Partial<ExternalOptions> = {}): Ear {
  const messages: BrokerMessage[] = []
  const changes: ConnectionChange[] = []
  const { onMessage = async () => undefined, ...rest } = options
  const broker = openExternalBroker({
    address: { url, username: null, password: null },
    clientId: 'shoal-test',
    onConnectionChange: (change) => changes.push(change),
    log: { debug: quiet, info: quiet, warn: quiet, error: quiet },
    // The shortest of each wait: half of what is planned.
    chance: () => 0,
    ...rest,
    onMessage: (message) => {
      messages.push(message)
      return onMessage(message)
    }
  })
  opened.push(broker)
  return { broker, messages, changes }
}

const readings = (count: number, from = 0) =>
  Array.from({ length: count }, (_, index) => ({
    topic: 'shoal/kitchen/t1/temperature',
    payload: String(20 + (from + index) / 1000)
  }))
const payloads = (messages: readonly BrokerMessage[]): string[] =>
  messages.map(({ payload }) => Buffer.from(payload).toString())

for (const version of [4, 5] as const) {
  const name = version === 4 ? 'MQTT 3.1.1' : 'MQTT 5'
  describe.skipIf(!hasMosquitto)(`an external broker, ${name} ${withMosquitto}`, () => {
    test('what boards publish in our scheme comes in, and nothing else does', async () => {
      const { port, url } = await mosquitto()
      const { broker, messages } = listen(url, { version, topics: ['garage/pond'] })
      await until(() => broker.state().connected)
      await publishAll(port, [
        { topic: 'shoal/kitchen/t1/temperature', payload: '24.5' },
        { topic: 'shoal/kitchen/senml', payload: '[]' },
        { topic: 'shoal/kitchen/alarm', payload: 'forged' },
        { topic: 'shoal/status', payload: 'forged' },
        { topic: 'garage/other', payload: '1' },
        { topic: 'garage/pond', payload: '18' }
      ])
      await until(() => messages.length >= 3)
      expect(messages.map(({ topic }) => topic)).toEqual([
        'shoal/kitchen/t1/temperature',
        'shoal/kitchen/senml',
        'garage/pond'
      ])
      expect(broker.state()).toMatchObject({ connected: true, why: null, version })
    })

    test('a message is acknowledged only once it is kept: one that could not be kept comes again', async () => {
      const { port, url } = await mosquitto()
      let failuresLeft = 3
      const kept: string[] = []
      const { broker, messages } = listen(url, {
        version,
        onMessage: async ({ payload }) => {
          if (failuresLeft > 0) {
            failuresLeft -= 1
            throw new Error('the disk is full')
          }
          kept.push(Buffer.from(payload).toString())
        }
      })
      await until(() => broker.state().connected)
      await publishAll(port, readings(1))
      await until(() => kept.length > 0)
      expect(kept).toEqual(['20'])
      expect(messages.map(({ dup }) => dup)).toEqual([false, true, true, true])
      // The same session and packet id each time: that is how a redelivery is known.
      expect(new Set(messages.map(({ sessionId, packetId }) => `${sessionId} ${packetId}`)).size).toBe(1)
    })

    test('many messages are on their way to one commit, and each is acknowledged once it is kept', async () => {
      const { port, url } = await mosquitto()
      let waiting: (() => void)[] = []
      let most = 0
      const { broker, messages } = listen(url, {
        version,
        onMessage: () => new Promise((kept) => waiting.push(kept))
      })
      await until(() => broker.state().connected)
      const sent = publishAll(port, readings(300))
      while (messages.length < 300 || waiting.length > 0) {
        most = Math.max(most, waiting.length)
        // The last to come is kept first.
        const done = waiting.toReversed()
        waiting = []
        for (const kept of done) kept()
        await new Promise((done) => setTimeout(done, 20))
      }
      await sent
      expect(most).toBeGreaterThan(50)
      await broker.close()
      // All was acknowledged: nothing comes again.
      const again = listen(url, { version })
      await until(() => again.broker.state().connected)
      await publishAll(port, [{ topic: 'shoal/kitchen/t1/temperature', payload: 'last' }])
      await until(() => again.messages.length > 0)
      expect(payloads(again.messages)).toEqual(['last'])
    })

    test('what came while the watch was away for an hour is handed over in order, none twice', async () => {
      const { port, url } = await mosquitto()
      const first = listen(url, { version })
      await until(() => first.broker.state().connected)
      await first.broker.close()
      await publishAll(port, readings(720))
      const second = listen(url, { version })
      await until(() => second.messages.length >= 720)
      expect(payloads(second.messages)).toEqual(readings(720).map(({ payload }) => payload))
    })

    test('a broker that restarts, and one that is killed, is found again and gives what it had kept', async () => {
      const broker = await mosquitto()
      const { broker: ours, messages, changes } = listen(broker.url, { version })
      await until(() => ours.state().connected)
      // Since its first save a killed broker knows of our session.
      await until(() => existsSync(join(broker.dir, 'mosquitto.db')))
      for (const [round, signal] of (['SIGTERM', 'SIGKILL'] as const).entries()) {
        await publishAll(broker.port, readings(10, round * 10))
        await until(() => messages.length >= round * 10 + 10)
        await broker.stop(signal)
        await until(() => !ours.state().connected)
        await broker.start()
        await until(() => ours.state().connected)
      }
      await publishAll(broker.port, readings(10, 20))
      await until(() => messages.some(({ payload }) => Buffer.from(payload).toString() === '20.029'))
      expect(new Set(payloads(messages)).size).toBe(30)
      expect(changes.map(({ connected }) => connected)).toEqual([true, false, true, false, true])
    })

    test('its status is online while it listens, offline by its last will, and offline after a goodbye', async () => {
      const { port, url } = await mosquitto()
      const said: string[] = []
      const watcher = await connectAsync(`mqtt://127.0.0.1:${port}`, { reconnectPeriod: 0 })
      opened.push({ close: () => watcher.endAsync(true) })
      watcher.on('message', (_topic, payload) => said.push(payload.toString()))
      await watcher.subscribeAsync('shoal/status', { qos: 1 })
      const ours = listen(url, { version })
      await until(() => said.at(-1) === 'online')
      // Another with the same client id takes the session over: the broker cuts the first off, which speaks its will.
      const thief = await connectAsync(`mqtt://127.0.0.1:${port}`, {
        clientId: 'shoal-test',
        reconnectPeriod: 0
      })
      await until(() => said.includes('offline'))
      await until(() => ours.broker.state().connected && said.at(-1) === 'online')
      await thief.endAsync(true)
      await ours.broker.close()
      await until(() => said.at(-1) === 'offline')
    })

    test('several intakes of one name share the messages among them', async () => {
      const { port, url } = await mosquitto()
      const ears = ['a', 'b'].map((clientId) => listen(url, { version, clientId, shareName: 'intake' }))
      await until(() => ears.every(({ broker }) => broker.state().connected))
      // A subscription is in force once its own acknowledgement came: a first message shows that.
      await publishAll(port, readings(1))
      await until(() => ears.some(({ messages }) => messages.length > 0))
      await publishAll(port, readings(100, 1))
      await until(() => ears.reduce((sum, { messages }) => sum + messages.length, 0) >= 101)
      expect(new Set(ears.flatMap(({ messages }) => payloads(messages))).size).toBe(101)
      expect(ears.every(({ messages }) => messages.length > 20)).toBe(true)
    })
  })
}

describe.skipIf(!hasMosquitto)(`coming in at an external broker ${withMosquitto}`, () => {
  test('name and password are shown, and a wrong one is said', async () => {
    const { port, url } = await mosquitto({ anonymous: false, lines: ['password_file %dir%/passwords'] })
    expect(port).toBeGreaterThan(0)
    const right = listen(url, { address: { url, username: 'shoal', password: 'four quiet corydoras' } })
    await until(() => right.broker.state().connected)
    const wrong = listen(url, { clientId: 'x', address: { url, username: 'shoal', password: 'wrong' } })
    await until(() => /not authori[sz]ed/i.test(wrong.broker.state().why ?? ''))
    expect(wrong.broker.state().connected).toBe(false)
  })

  test('a certificate that nobody vouches for is not believed', async () => {
    const { url } = await mosquitto({ scheme: 'mqtts', certificate: true })
    const ours = listen(url)
    await until(() => /certificate/i.test(ours.broker.state().why ?? ''))
    expect(ours.broker.state().connected).toBe(false)
  })
})

test('a broker that speaks MQTT 3.1.1 only is spoken to in that', async () => {
  const { broker } = await openTestBroker()
  const ours = listen(`mqtt://127.0.0.1:${broker.port}`)
  await until(() => ours.broker.state().version === 4 && ours.broker.state().connected)
  // This one lets nobody listen, and that is said.
  await until(() => ours.broker.state().why !== null)
  expect(ours.broker.state().why).toContain('does not let the watch listen')
})

test('waits before a new try grow from one second to sixty, and are spread by half to either side', () => {
  const wait = (failures: number, chance: number): number => reconnectDelayMs({ failures, chance })
  expect([0, 1, 2, 5, 6, 60].map((failures) => wait(failures, 0.5))).toEqual([
    1000, 2000, 4000, 32_000, 60_000, 60_000
  ])
  expect([wait(0, 0), wait(0, 1), wait(60, 0), wait(60, 1)]).toEqual([500, 1500, 30_000, 90_000])
})

test('without a broker the watch still opens, says why, and closes at once', async () => {
  const ours = listen('mqtt://127.0.0.1:9')
  await until(() => ours.broker.state().why?.includes('ECONNREFUSED') ?? false)
  expect(ours.broker.state().connected).toBe(false)
  await ours.broker.close()
})
