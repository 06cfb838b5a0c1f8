import { execFile } from 'node:child_process'
import { existsSync } from 'node:fs'
import { promisify } from 'node:util'
import { afterEach, describe, expect, test } from 'vitest'
import type { BrokerMessage } from '../../services/broker/broker-port.ts'
import { parseMessage } from '../../services/intake/parse-message.ts'
import {
  ackedIds,
  closeAll,
  connectBoard,
  connectPacket,
  connectRaw,
  openTestBroker,
  publishPacket,
  until
} from './test-broker.ts'

afterEach(closeAll)

const topic = 'shoal/kitchen/t1/temperature'

/** Messages that stay undecided until the test decides. */
function makeDesk() {
  const waiting: { message: BrokerMessage; keep: () => void; fail: () => void }[] = []
  const onMessage = (message: BrokerMessage): Promise<void> =>
    new Promise((resolve, reject) => {
      waiting.push({ message, keep: resolve, fail: () => reject(new Error('disk full')) })
    })
  return { waiting, onMessage }
}

describe('acknowledged means kept', () => {
  test('a QoS 1 message is not acknowledged before it is kept, and then it is', async () => {
    const desk = makeDesk()
    const { broker } = await openTestBroker({ onMessage: desk.onMessage })
    const raw = await connectRaw(broker.port)
    raw.socket.write(
      Buffer.concat([connectPacket('b1'), publishPacket({ topic, payload: '24.5', packetId: 9 })])
    )
    await until(() => desk.waiting.length === 1)
    // A second connection that is served from end to end shows that the broker had its chance to acknowledge.
    await connectBoard(broker.port)
    expect(ackedIds(raw.bytes())).toEqual([])
    desk.waiting[0]?.keep()
    await until(() => ackedIds(raw.bytes()).length === 1)
    expect(ackedIds(raw.bytes())).toEqual([9])
  })

  test('what could not be kept is not acknowledged: the line is closed, and the board sends it again', async () => {
    const desk = makeDesk()
    const { broker, changes } = await openTestBroker({ onMessage: desk.onMessage })
    const board = await connectBoard(broker.port, { clientId: 'b1', clean: false })
    const published = board.publishAsync(topic, '24.5', { qos: 1 })
    await until(() => desk.waiting.length === 1)
    desk.waiting[0]?.fail()
    await until(() => desk.waiting.length === 2)
    expect(changes.map((change) => change.why)).toContain('not-kept')
    const [first, second] = desk.waiting.map(({ message }) => message)
    expect(second).toMatchObject({ packetId: first?.packetId, payloadHash: first?.payloadHash })
    expect(second?.sessionId).toBe(first?.sessionId)
    desk.waiting[1]?.keep()
    await published
  })

  test('nobody waits longer than the limit for a disk that does not answer', async () => {
    const desk = makeDesk()
    const { broker } = await openTestBroker({ onMessage: desk.onMessage, ackTimeoutMs: 50 })
    const raw = await connectRaw(broker.port)
    raw.socket.write(
      Buffer.concat([connectPacket('b1'), publishPacket({ topic, payload: '24.5', packetId: 9 })])
    )
    await until(raw.isClosed)
    expect(ackedIds(raw.bytes())).toEqual([])
    // The late answer finds nobody and harms nobody.
    desk.waiting[0]?.keep()
    await connectBoard(broker.port)
  })

  test('an intake that throws at once counts as not kept and does not stop the broker', async () => {
    const { broker } = await openTestBroker({
      onMessage: () => {
        throw new Error('a slip')
      }
    })
    const raw = await connectRaw(broker.port)
    raw.socket.write(
      Buffer.concat([connectPacket('b1'), publishPacket({ topic, payload: '24.5', packetId: 9 })])
    )
    await until(raw.isClosed)
    await connectBoard(broker.port)
  })

  test('acknowledgements come in the order of the messages, whatever is kept first (MQTT 3.1.1, 4.6.0-2)', async () => {
    const desk = makeDesk()
    const { broker } = await openTestBroker({ onMessage: desk.onMessage })
    const raw = await connectRaw(broker.port)
    raw.socket.write(
      Buffer.concat([
        connectPacket('b1'),
        ...[1, 2, 3, 4].map((packetId) => publishPacket({ topic, payload: '24.5', packetId }))
      ])
    )
    await until(() => desk.waiting.length === 4)
    for (const index of [3, 1, 2, 0]) desk.waiting[index]?.keep()
    await until(() => ackedIds(raw.bytes()).length === 4)
    expect(ackedIds(raw.bytes())).toEqual([1, 2, 3, 4])
  })

  test('thousands of messages kept at one stroke are all acknowledged', async () => {
    const desk = makeDesk()
    const { broker } = await openTestBroker({ onMessage: desk.onMessage })
    const board = await connectBoard(broker.port)
    const published = Array.from({ length: 2000 }, (_, n) => board.publishAsync(topic, String(n), { qos: 1 }))
    let kept = 0
    const keeping = setInterval(() => {
      kept += desk.waiting.length
      for (const { keep } of desk.waiting.splice(0)) keep()
    }, 5)
    await Promise.all(published)
    clearInterval(keeping)
    expect(kept).toBe(2000)
  })

  test('QoS 2 is kept before it is received, and kept once', async () => {
    const desk = makeDesk()
    const { broker } = await openTestBroker({ onMessage: desk.onMessage })
    const board = await connectBoard(broker.port)
    let answered = false
    const published = board.publishAsync(topic, '24.5', { qos: 2 }).then(() => {
      answered = true
    })
    await until(() => desk.waiting.length === 1)
    await connectBoard(broker.port)
    expect(answered).toBe(false)
    desk.waiting[0]?.keep()
    await published
    expect(desk.waiting).toHaveLength(1)
  })
})

describe('a board that hangs up at once', () => {
  test('is heard to the end, also where its password was still being looked at', async () => {
    let letIn: ((isRight: boolean) => void) | undefined
    const { broker, messages, changes } = await openTestBroker({
      authenticate: () =>
        new Promise((resolve) => {
          letIn = resolve
        })
    })
    const raw = await connectRaw(broker.port)
    raw.socket.write(connectPacket('b1', { name: 'reef' }))
    await until(() => letIn !== undefined)
    raw.socket.end(
      Buffer.concat([publishPacket({ topic, payload: '24.5', packetId: 1 }), Buffer.from([0xe0, 0])])
    )
    await until(() => raw.socket.writableFinished)
    await connectBoard(broker.port)
    letIn?.(true)
    await until(() => changes.some((change) => change.clientId === 'b1' && !change.connected))
    expect(messages.map(({ payload }) => Buffer.from(payload).toString())).toEqual(['24.5'])
  })
})

describe('a poisonous message', () => {
  test('is acknowledged and done with; its neighbours of the same and of another board are untouched', async () => {
    const kept: number[] = []
    const bad: string[] = []
    const { broker, changes } = await openTestBroker({
      onMessage: async (message) => {
        const parsed = parseMessage(message)
        if (parsed.kind === 'refused') bad.push(parsed.because)
        if (parsed.kind === 'readings') kept.push(...parsed.readings.map((reading) => reading.value))
      }
    })
    const [one, two] = [await connectBoard(broker.port), await connectBoard(broker.port)]
    await Promise.all([
      one.publishAsync(topic, '24.1', { qos: 1 }),
      one.publishAsync(topic, '{"value":"abc"}', { qos: 1 }),
      two.publishAsync(topic, '24.2', { qos: 1 }),
      one.publishAsync(topic, 'NaN', { qos: 1 }),
      one.publishAsync(topic, '24.3', { qos: 1 })
    ])
    expect(kept.toSorted()).toEqual([24.1, 24.2, 24.3])
    expect(bad).toEqual(['not-a-number', 'not-finite'])
    expect(changes.every((change) => change.connected)).toBe(true)
  })
})

const mosquittoPub = [
  '/usr/bin/mosquitto_pub',
  '/usr/local/bin/mosquitto_pub',
  '/opt/homebrew/bin/mosquitto_pub'
].find((path) => existsSync(path))
describe.skipIf(mosquittoPub === undefined)(
  `the command-line publisher${mosquittoPub === undefined ? ' (skipped: mosquitto_pub is missing; apt-get install mosquitto-clients)' : ''}`,
  () => {
    const run = (port: number, ...more: string[]) =>
      promisify(execFile)(mosquittoPub ?? '', ['-h', '127.0.0.1', '-p', String(port), '-t', topic, ...more], {
        timeout: 10_000
      })
    test('publishes at QoS 1 and ends only after the reading is kept', async () => {
      const desk = makeDesk()
      const { broker } = await openTestBroker({ onMessage: desk.onMessage })
      let ended = false
      const running = run(broker.port, '-q', '1', '-m', '24.56').then(() => {
        ended = true
      })
      await until(() => desk.waiting.length === 1)
      await connectBoard(broker.port)
      expect(ended).toBe(false)
      expect(Buffer.from(desk.waiting[0]?.message.payload ?? []).toString()).toBe('24.56')
      desk.waiting[0]?.keep()
      await running
    })
    test('publishes at QoS 0 and with the retain flag', async () => {
      const { broker, messages, changes } = await openTestBroker()
      await run(broker.port, '-q', '0', '-r', '-m', '24.5')
      await until(() => messages.length === 1)
      expect(messages[0]).toMatchObject({ qos: 0, retained: true, packetId: null })
      await until(() => changes.length === 2)
      expect(changes.map((change) => change.why)).toEqual(['connected', 'goodbye'])
    })
    test('loses nothing in twenty quick calls at QoS 0, and none of them seems present afterwards', async () => {
      const { broker, messages, changes } = await openTestBroker()
      for (let round = 0; round < 20; round += 1) await run(broker.port, '-m', '24.5')
      await until(() => messages.length === 20 && changes.length === 40)
      expect(broker.connections()).toEqual([])
    })
    test('with MQTT 5 is refused, and we are told which board it was', async () => {
      const { broker, mqtt5, messages } = await openTestBroker()
      await expect(
        run(broker.port, '-V', 'mqttv5', '-i', 'modern', '-q', '1', '-m', '24.5')
      ).rejects.toThrow()
      expect(mqtt5).toMatchObject([{ clientId: 'modern', address: '127.0.0.1' }])
      expect(messages).toEqual([])
    })
  }
)
