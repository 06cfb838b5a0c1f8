import { connect as connectTcp, type Socket } from 'node:net'
import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt'
import { expect } from 'vitest'
import type {
  Broker,
  BrokerMessage,
  BrokerOptions,
  BrokerRefusal,
  ConnectionChange,
  LoginRefusal
} from '../../services/broker/broker-port.ts'
import { openBroker } from '../../services/broker/open-broker.ts'

const quiet = () => undefined

/** A real broker on a free port of this machine, and all that it told. */
export type TestBroker = Readonly<{
  broker: Broker
  messages: BrokerMessage[]
  refusals: BrokerRefusal[]
  changes: ConnectionChange[]
  mqtt5: { clientId: string }[]
  loginRefusals: LoginRefusal[]
}>

const opened: { end: () => unknown }[] = []

export async function openTestBroker(options: Partial<BrokerOptions> = {}): Promise<TestBroker> {
  const messages: BrokerMessage[] = []
  const refusals: BrokerRefusal[] = []
  const changes: ConnectionChange[] = []
  const mqtt5: { clientId: string }[] = []
  const loginRefusals: LoginRefusal[] = []
  const { onMessage = async () => undefined, ...rest } = options
  const broker = await openBroker({
    host: '127.0.0.1',
    port: 0,
    allowAnonymous: true,
    authenticate: async () => false,
    authorizeTopic: () => true,
    onRefused: (refusal) => refusals.push(refusal),
    onConnectionChange: (change) => changes.push(change),
    onMqtt5Refused: (board) => mqtt5.push(board),
    onLoginRefused: (refusal) => loginRefusals.push(refusal),
    log: { debug: quiet, info: quiet, warn: quiet, error: quiet },
    ...rest,
    onMessage: (message) => {
      messages.push(message)
      return onMessage(message)
    }
  })
  opened.push({ end: () => broker.close() })
  return { broker, messages, refusals, changes, mqtt5, loginRefusals }
}

/** A board on the ordinary client library. */
export async function connectBoard(port: number, options: IClientOptions = {}): Promise<MqttClient> {
  const board = await connectAsync({
    host: '127.0.0.1',
    port,
    protocol: 'mqtt',
    reconnectPeriod: 50,
    connectTimeout: 5000,
    ...options
  })
  board.on('error', quiet)
  opened.push({ end: () => board.endAsync(true) })
  return board
}

/** A board that speaks bytes, for what no library would do. */
export async function connectRaw(port: number): Promise<RawBoard> {
  const socket = connectTcp({ host: '127.0.0.1', port })
  const received: Buffer[] = []
  let closed = false
  socket.on('data', (chunk) => received.push(chunk))
  socket.on('error', quiet)
  socket.on('close', () => {
    closed = true
  })
  await new Promise<void>((resolve) => socket.once('connect', () => resolve()))
  opened.push({ end: () => socket.destroy() })
  return { socket, bytes: () => Buffer.concat(received), isClosed: () => closed }
}
export type RawBoard = Readonly<{ socket: Socket; bytes: () => Buffer; isClosed: () => boolean }>

/** Closes what a test opened, the last first. */
export async function closeAll(): Promise<void> {
  for (const { end } of opened.splice(0).reverse()) await end()
}

/** Waits for a condition, with a bound. */
export const until = (condition: () => boolean): Promise<void> =>
  expect.poll(condition, { timeout: 10_000, interval: 10 }).toBe(true)

/** MQTT 3.1.1, section 2.2: type and flags, remaining length, body. */
export function packetOf(first: number, body: Buffer): Buffer {
  const header = [first]
  let rest = body.length
  do {
    header.push((rest % 128) + (rest > 127 ? 128 : 0))
    rest = Math.floor(rest / 128)
  } while (rest > 0)
  return Buffer.concat([Buffer.from(header), body])
}
export function textField(text: string): Buffer {
  const bytes = Buffer.from(text)
  return Buffer.concat([Buffer.from([bytes.length >> 8, bytes.length & 255]), bytes])
}
/** A clean session, without keepalive unless said, with a user name if one is given (section 3.1). */
export const connectPacket = (
  clientId: string,
  given: Readonly<{ name?: string; keepaliveS?: number }> = {}
): Buffer =>
  packetOf(
    0x10,
    Buffer.concat([
      textField('MQTT'),
      Buffer.from([4, given.name === undefined ? 0x02 : 0x82, 0, given.keepaliveS ?? 0]),
      textField(clientId),
      given.name === undefined ? Buffer.alloc(0) : textField(given.name)
    ])
  )
export const publishPacket = (
  given: Readonly<{ topic: string; payload: Buffer | string; packetId: number; dup?: boolean }>
): Buffer =>
  packetOf(
    given.dup === true ? 0x3a : 0x32,
    Buffer.concat([
      textField(given.topic),
      Buffer.from([given.packetId >> 8, given.packetId & 255]),
      Buffer.from(given.payload)
    ])
  )
export const subscribePacket = (topic: string): Buffer =>
  packetOf(0x82, Buffer.concat([Buffer.from([0, 1]), textField(topic), Buffer.from([0])]))

/** The packet ids of all PUBACKs in a stretch of bytes that holds CONNACK and PUBACKs only. */
export function ackedIds(bytes: Buffer): number[] {
  const ids: number[] = []
  for (let at = 4; at + 4 <= bytes.length; at += 4)
    if (bytes[at] === 0x40) ids.push(bytes.readUInt16BE(at + 2))
  return ids
}
