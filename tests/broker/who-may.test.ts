import { afterEach, describe, expect, test } from 'vitest'
import type { BrokerOptions } from '../../services/broker/broker-port.ts'
import { isLoopback } from '../../services/broker/loopback.ts'
import { makeTryLimit } from '../../services/broker/try-limit.ts'
import { closeAll, connectBoard, connectPacket, connectRaw, openTestBroker, until } from './test-broker.ts'

afterEach(closeAll)

const passwords: Readonly<Record<string, string>> = { reef: 'four quiet corydoras', river: 'six loud danios' }
const tanks: Readonly<Record<string, string>> = { reef: 'kitchen', river: 'hall' }
const withPasswords: Partial<BrokerOptions> = {
  allowAnonymous: false,
  authenticate: async ({ name, password }) => Object.hasOwn(passwords, name) && passwords[name] === password,
  authorizeTopic: ({ boardName, tankId }) => boardName !== null && tanks[boardName] === tankId
}
const asReef = { username: 'reef', password: 'four quiet corydoras', reconnectPeriod: 0 }
const asRiver = { username: 'river', password: 'six loud danios', reconnectPeriod: 0 }

describe('who comes in', () => {
  test('a board with its name and password', async () => {
    const { broker } = await openTestBroker(withPasswords)
    await connectBoard(broker.port, { ...asReef, clientId: 'b1' })
    await until(() => broker.connections().length === 1)
    expect(broker.connections()).toMatchObject([{ clientId: 'b1', boardName: 'reef', address: '127.0.0.1' }])
  })
  test('nobody without a password where passwords are required', async () => {
    const { broker, loginRefusals } = await openTestBroker(withPasswords)
    await expect(connectBoard(broker.port, { reconnectPeriod: 0 })).rejects.toMatchObject({ code: 5 })
    expect(loginRefusals).toMatchObject([{ why: 'no-password' }])
  })
  test('nobody with a wrong password or an unknown name, also where boards without password may come in', async () => {
    for (const allowAnonymous of [false, true]) {
      const { broker, loginRefusals } = await openTestBroker({ ...withPasswords, allowAnonymous })
      for (const username of ['reef', 'nobody', '__proto__', 'x'.repeat(500)])
        await expect(
          connectBoard(broker.port, { username, password: 'guess', reconnectPeriod: 0 })
        ).rejects.toMatchObject({ code: 4 })
      expect(loginRefusals.map(({ why }) => why)).toEqual(Array(4).fill('wrong-password'))
    }
  })
  test('a check that fails lets nobody in and says that it is our fault', async () => {
    const { broker } = await openTestBroker({
      authenticate: async () => {
        throw new Error('record closed')
      }
    })
    await expect(connectBoard(broker.port, asReef)).rejects.toMatchObject({ code: 3 })
  })
  test('no board throws another off the line by taking its client id', async () => {
    const { broker, changes } = await openTestBroker(withPasswords)
    await connectBoard(broker.port, { ...asReef, clientId: 'b1' })
    await until(() => broker.connections().length === 1)
    await expect(connectBoard(broker.port, { ...asRiver, clientId: 'b1' })).rejects.toMatchObject({ code: 2 })
    expect(changes.map(({ why }) => why)).toEqual(['connected'])
  })
  test('after ten wrong passwords a minute a name is locked at its address, and another board still comes in', async () => {
    let checked = 0
    const { broker, loginRefusals } = await openTestBroker({
      ...withPasswords,
      authenticate: async (login) => {
        checked += 1
        return (await withPasswords.authenticate?.(login)) ?? false
      }
    })
    for (let tries = 0; tries < 12; tries += 1)
      await expect(connectBoard(broker.port, { ...asReef, password: `guess ${tries}` })).rejects.toThrow()
    expect(checked).toBe(10)
    expect(loginRefusals.at(-1)?.why).toBe('too-many-tries')
    await expect(connectBoard(broker.port, asReef)).rejects.toMatchObject({ code: 5 })
    await connectBoard(broker.port, asRiver)
  })
  test('boards without a password are for loopback alone', () => {
    for (const host of ['127.0.0.1', '127.8.8.8', '::1', 'localhost']) expect(isLoopback(host)).toBe(true)
    for (const host of ['0.0.0.0', '::', '192.168.1.4', '127.example.org', 'localhost.example.org', ''])
      expect(isLoopback(host)).toBe(false)
  })
})

describe('the limit of failed tries', () => {
  test('ends after a minute, and many names from one address are limited together', () => {
    let nowMs = 0
    const limit = makeTryLimit({
      nowMs: () => nowMs,
      triesPerName: 3,
      triesPerAddress: 6,
      mostRemembered: 50
    })
    const who = { address: 'a', name: 'reef' }
    for (let tries = 0; tries < 3; tries += 1) limit.countFailure(who)
    expect(limit.isLocked(who)).toBe(true)
    expect(limit.isLocked({ ...who, name: 'river' })).toBe(false)
    expect(limit.isLocked({ ...who, address: 'b' })).toBe(false)
    for (const name of ['x', 'y', 'z']) limit.countFailure({ address: 'a', name })
    expect(limit.isLocked({ ...who, name: 'river' })).toBe(true)
    nowMs = 60_000
    expect(limit.isLocked(who)).toBe(false)
  })
})

describe('a board that speaks only MQTT 5', () => {
  test('is refused with code 1, and we are told so that the keeper can be', async () => {
    const { broker, mqtt5, changes } = await openTestBroker()
    await expect(
      connectBoard(broker.port, { protocolVersion: 5, clientId: 'modern', reconnectPeriod: 0 })
    ).rejects.toMatchObject({ code: 1 })
    expect(mqtt5).toMatchObject([{ clientId: 'modern', address: '127.0.0.1' }])
    expect(changes).toEqual([])
  })
})

describe('where a board may publish', () => {
  const forbidden: readonly (readonly [title: string, topic: string, code: string, because: string])[] = [
    ['a tank that is not its own', 'shoal/hall/t1/temperature', 'INTAKE_NOT_ALLOWED', 'not-its-tank'],
    ['the pack of a tank that is not its own', 'shoal/hall/senml', 'INTAKE_NOT_ALLOWED', 'not-its-tank'],
    ['a topic of no tank', 'tele/board/state', 'INTAKE_NOT_ALLOWED', 'not-its-tank'],
    ['the status of the watch', 'shoal/status', 'INTAKE_NOT_ALLOWED', 'own-topic'],
    ['the alarm of its own tank', 'shoal/kitchen/alarm', 'INTAKE_NOT_ALLOWED', 'own-topic'],
    ['a topic of the broker', '$SYS/evil', 'INTAKE_NOT_ALLOWED', 'broker-topic'],
    ['eleven levels', 'shoal/kitchen/c/d/e/f/g/h/i/j/k', 'INTAKE_BAD_TOPIC', 'too-many-levels']
  ]
  for (const [title, topic, code, because] of forbidden)
    test(`not on ${title}: refused and noted, acknowledged so that it does not come for ever`, async () => {
      const { broker, messages, refusals, changes } = await openTestBroker(withPasswords)
      const board = await connectBoard(broker.port, { ...asReef, clientId: 'b1' })
      await board.publishAsync(topic, 'offline', { qos: 1, retain: true })
      await board.publishAsync('shoal/kitchen/t1/temperature', '24.5', { qos: 1 })
      expect(refusals.map(({ message, fault }) => [message.topic, fault.code, fault.because])).toEqual([
        [topic, code, because]
      ])
      expect(messages.map((message) => message.topic)).toEqual(['shoal/kitchen/t1/temperature'])
      expect(changes).toHaveLength(1)
    })
  test('a topic of two hundred levels costs the connection and nothing more', async () => {
    const { broker, messages } = await openTestBroker()
    const board = await connectBoard(broker.port, { reconnectPeriod: 0 })
    board.publish('a/'.repeat(200), 'x', { qos: 0 })
    await until(() => !board.connected)
    await connectBoard(broker.port)
    expect(messages).toEqual([])
  })
  test('a fault while noting a refusal does not stop the broker', async () => {
    const { broker } = await openTestBroker({
      onRefused: () => {
        throw new Error('record closed')
      }
    })
    const board = await connectBoard(broker.port)
    await board.publishAsync('$SYS/evil', 'x', { qos: 1 })
  })
})

describe('a last will', () => {
  test('is never taken as a reading', async () => {
    const { broker, messages, refusals, changes } = await openTestBroker()
    const board = await connectBoard(broker.port, {
      reconnectPeriod: 0,
      will: { topic: 'shoal/kitchen/t1/temperature', payload: Buffer.from('99'), qos: 1, retain: true }
    })
    board.stream.destroy()
    await until(() => changes.length === 2)
    await (await connectBoard(broker.port)).publishAsync('shoal/kitchen/t1/temperature', '24.5', { qos: 1 })
    expect(messages.map(({ payload }) => Buffer.from(payload).toString())).toEqual(['24.5'])
    expect(refusals).toEqual([])
  })
})

describe('who came and who left', () => {
  const leaving: readonly (readonly [why: string, leave: (port: number) => Promise<void>])[] = [
    [
      'goodbye',
      async (port) => {
        await (await connectBoard(port, { clientId: 'b1' })).endAsync()
      }
    ],
    [
      'cut',
      async (port) => {
        const raw = await connectRaw(port)
        raw.socket.write(connectPacket('b1'))
        await until(() => raw.bytes().length >= 4)
        raw.socket.destroy()
      }
    ],
    [
      'silent',
      async (port) => {
        const raw = await connectRaw(port)
        raw.socket.write(connectPacket('b1', { keepaliveS: 1 }))
      }
    ],
    [
      'replaced',
      async (port) => {
        await connectBoard(port, { clientId: 'b1', reconnectPeriod: 0 })
        await connectBoard(port, { clientId: 'b1', reconnectPeriod: 0 })
      }
    ]
  ]
  for (const [why, leave] of leaving)
    test(`is told, with the reason: ${why}`, async () => {
      const { broker, changes } = await openTestBroker()
      await leave(broker.port)
      await until(() => changes.length >= 2)
      expect(changes.slice(0, 2)).toMatchObject([
        { clientId: 'b1', connected: true, why: 'connected', address: '127.0.0.1' },
        { clientId: 'b1', connected: false, why }
      ])
      if (why !== 'replaced') expect(broker.connections()).toEqual([])
    })
  test('closing the broker says so of every board, and ends', async () => {
    const { broker, changes } = await openTestBroker()
    await connectBoard(broker.port, { reconnectPeriod: 0 })
    await connectRaw(broker.port)
    await until(() => changes.length === 1)
    await broker.close()
    expect(changes.at(-1)).toMatchObject({ connected: false, why: 'closing' })
  })
  test('a port that is taken is named', async () => {
    const { broker } = await openTestBroker()
    await expect(openTestBroker({ port: broker.port })).rejects.toMatchObject({ code: 'START_PORT_TAKEN' })
  })
})
