import { afterEach, describe, expect, test } from 'vitest'
import {
  closeAll,
  connectBoard,
  connectPacket,
  connectRaw,
  openTestBroker,
  subscribePacket,
  until
} from './test-broker.ts'

afterEach(closeAll)

const kitchenOnly = { authorizeTopic: ({ tankId }: { tankId: string | null }) => tankId === 'kitchen' }

describe('what a board may listen to', () => {
  test('the status of the watch and the alarm of its own tank, present value first', async () => {
    const { broker } = await openTestBroker(kitchenOnly)
    await broker.publishRetained('shoal/kitchen/alarm', '{"kind":"water-cold"}')
    const board = await connectBoard(broker.port)
    const heard: string[] = []
    board.on('message', (topic, payload) => heard.push(`${topic} ${payload}`))
    await board.subscribeAsync(['shoal/status', 'shoal/kitchen/alarm'], { qos: 1 })
    await until(() => heard.length === 2)
    expect(heard.toSorted()).toEqual(['shoal/kitchen/alarm {"kind":"water-cold"}', 'shoal/status online'])
    await broker.publishRetained('shoal/kitchen/alarm', '{}')
    await until(() => heard.length === 3)
    expect(heard[2]).toBe('shoal/kitchen/alarm {}')
  })

  for (const topic of [
    '#',
    '+/+/+/+',
    'shoal/#',
    'shoal/+/alarm',
    'shoal/hall/alarm',
    'shoal/kitchen/t1/temperature',
    '$SYS/#',
    'taken'
  ])
    test(`not ${topic}: answered with failure (128)`, async () => {
      const { broker } = await openTestBroker(kitchenOnly)
      const raw = await connectRaw(broker.port)
      raw.socket.write(Buffer.concat([connectPacket('b1'), subscribePacket(topic)]))
      await until(() => raw.bytes().length >= 9)
      expect(Array.from(raw.bytes().subarray(4))).toEqual([0x90, 3, 0, 1, 128])
    })

  test('what a board publishes, retained or not, reaches no listener and is not kept in the broker', async () => {
    const { broker, messages } = await openTestBroker()
    const listener = await connectBoard(broker.port)
    const heard: string[] = []
    listener.on('message', (topic, payload) => heard.push(`${topic} ${payload}`))
    await listener.subscribeAsync(['shoal/status', 'shoal/kitchen/alarm'])
    const board = await connectBoard(broker.port)
    for (const topic of ['shoal/status', 'shoal/kitchen/alarm', 'shoal/kitchen/t1/temperature'])
      await board.publishAsync(topic, 'forged', { qos: 1, retain: true })
    const late = await connectBoard(broker.port)
    late.on('message', (topic, payload) => heard.push(`${topic} ${payload}`))
    await late.subscribeAsync(['shoal/status', 'shoal/kitchen/alarm'])
    await broker.publishRetained('shoal/kitchen/alarm', 'true')
    await until(() => heard.filter((line) => line === 'shoal/kitchen/alarm true').length === 2)
    expect(new Set(heard)).toEqual(new Set(['shoal/status online', 'shoal/kitchen/alarm true']))
    expect(messages).toMatchObject([{ topic: 'shoal/kitchen/t1/temperature', retained: true }])
  })

  test('a lasting session that also asked for everything gathers nothing while it is away', async () => {
    const { broker } = await openTestBroker()
    const options = { clientId: 'b1', clean: false, reconnectPeriod: 0 }
    const heard: string[] = []
    const first = await connectBoard(broker.port, options)
    await first.subscribeAsync({ 'shoal/status': { qos: 1 }, '#': { qos: 1 } }).catch(() => undefined)
    await first.endAsync()
    const other = await connectBoard(broker.port)
    for (let n = 0; n < 50; n += 1) await other.publishAsync('shoal/kitchen/t1/ph', '7', { qos: 1 })
    const back = await connectBoard(broker.port, { ...options, resubscribe: false })
    back.on('message', (topic) => heard.push(topic))
    await back.subscribeAsync('shoal/status')
    await until(() => heard.length > 0)
    expect(heard).toEqual(['shoal/status'])
  })
})

describe('a listener that stops reading', () => {
  test('where it was denied it holds up nobody: ten thousand messages go through', async () => {
    const { broker, messages } = await openTestBroker()
    const frozen = await connectRaw(broker.port)
    frozen.socket.write(Buffer.concat([connectPacket('frozen'), subscribePacket('shoal/#')]))
    await until(() => frozen.bytes().length >= 9)
    frozen.socket.pause()
    const board = await connectBoard(broker.port)
    const payload = '24.5'.padEnd(1000)
    for (let round = 0; round < 10; round += 1)
      await Promise.all(
        Array.from({ length: 1000 }, () =>
          board.publishAsync('shoal/kitchen/t1/temperature', payload, { qos: 1 })
        )
      )
    expect(messages).toHaveLength(10_000)
  })

  test('where it is allowed it is put off the line, while boards go on and the broker lives', async () => {
    const { broker, messages, changes } = await openTestBroker()
    const frozen = await connectRaw(broker.port)
    frozen.socket.write(Buffer.concat([connectPacket('frozen'), subscribePacket('shoal/kitchen/alarm')]))
    await until(() => frozen.bytes().length >= 9)
    frozen.socket.pause()
    const board = await connectBoard(broker.port)
    // More than the buffers of both ends of a loopback socket can hold.
    const words = 'x'.repeat(4000)
    const spoken = Array.from({ length: 10_000 }, () => broker.publishRetained('shoal/kitchen/alarm', words))
    for (let n = 0; n < 100; n += 1)
      await board.publishAsync('shoal/kitchen/t1/temperature', '24.5', { qos: 1 })
    await Promise.all(spoken)
    expect(messages).toHaveLength(100)
    await until(() => changes.some((change) => change.clientId === 'frozen' && !change.connected))
    await connectBoard(broker.port)
  })
})
