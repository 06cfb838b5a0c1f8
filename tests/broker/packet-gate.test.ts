import fc from 'fast-check'
import { afterEach, describe, expect, test } from 'vitest'
import { largestPacketBytes, makeSieve } from '../../services/broker/packet-gate.ts'
import { largestPayloadBytes, parseMessage } from '../../services/intake/parse-message.ts'
import {
  ackedIds,
  closeAll,
  connectPacket,
  connectRaw,
  openTestBroker,
  packetOf,
  publishPacket,
  until
} from './test-broker.ts'

afterEach(closeAll)

const topic = 'shoal/kitchen/t1/temperature'
const sieve = () => makeSieve({ onGoodbye: () => undefined })

function sift(chunks: readonly Buffer[]): Buffer | null {
  const pass = sieve()
  const passed: Buffer[] = []
  for (const chunk of chunks) {
    const part = pass(chunk)
    if (part === null) return null
    passed.push(part)
  }
  return Buffer.concat(passed)
}

function split(bytes: Buffer, cuts: readonly number[]): Buffer[] {
  const places = [0, ...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length].toSorted((a, b) => a - b)
  return places.slice(1).map((end, index) => bytes.subarray(places[index], end))
}

describe('the gate before the broker', () => {
  test('passes packets of ordinary size on byte for byte, however the network cut them', () => {
    const packets = fc.array(
      fc.tuple(fc.constantFrom(0x10, 0x30, 0x32, 0x3b, 0x82, 0xc0, 0xe0), fc.uint8Array({ maxLength: 300 })),
      { maxLength: 6 }
    )
    fc.assert(
      fc.property(packets, fc.array(fc.nat(), { maxLength: 8 }), (given, cuts) => {
        const bytes = Buffer.concat(given.map(([first, body]) => packetOf(first, Buffer.from(body))))
        expect(sift(split(bytes, cuts))).toEqual(bytes)
      }),
      { numRuns: 500 }
    )
  })
  test('takes any bytes at all without failing', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 400 }), { maxLength: 5 }), (chunks) => {
        const passed = sift(chunks.map((chunk) => Buffer.from(chunk)))
        const given = chunks.reduce((sum, chunk) => sum + chunk.length, 0)
        if (passed !== null) expect(passed.length).toBeLessThanOrEqual(given + 5 * chunks.length)
      })
    )
  })
  test('cuts a PUBLISH that is too large and goes on with the next packet', () => {
    const large = publishPacket({ topic, payload: Buffer.alloc(largestPacketBytes + 1, 0x31), packetId: 1 })
    const next = publishPacket({ topic, payload: '24.5', packetId: 2 })
    for (const cuts of [[], [1], [3, 4, 5], [100_000, 200_000], [large.length - 1, large.length + 1]]) {
      const passed = sift(split(Buffer.concat([large, next]), cuts))
      expect(passed?.length).toBeLessThan(140_000)
      expect(passed?.subarray(-next.length)).toEqual(next)
    }
  })
  test('closes the line on any other packet that is too large, and on a length of five bytes', () => {
    expect(sift([packetOf(0x10, Buffer.alloc(70_000))])).toBeNull()
    expect(sift([packetOf(0x82, Buffer.alloc(70_000))])).toBeNull()
    expect(sift([Buffer.from([0x30, 0xff, 0xff, 0xff, 0xff])])).toBeNull()
  })
})

describe('a message of ten megabytes', () => {
  test('is answered as one refused message, held in memory only at its start, and the next one is taken', async () => {
    const answers: string[] = []
    const { broker, messages } = await openTestBroker({
      onMessage: async (message) => {
        const parsed = parseMessage(message)
        answers.push(parsed.kind === 'refused' ? parsed.code : parsed.kind)
      }
    })
    const raw = await connectRaw(broker.port)
    raw.socket.write(connectPacket('b1'))
    raw.socket.write(publishPacket({ topic, payload: Buffer.alloc(10_000_000, 0x32), packetId: 1 }))
    raw.socket.write(publishPacket({ topic, payload: '24.5', packetId: 2 }))
    await until(() => ackedIds(raw.bytes()).length === 2)
    expect(answers).toEqual(['INTAKE_TOO_LARGE', 'readings'])
    expect(messages[0]?.topic).toBe(topic)
    expect(messages[0]?.payload.byteLength).toBeGreaterThan(largestPayloadBytes)
    expect(messages[0]?.payload.byteLength).toBeLessThan(140_000)
  })
  test('of eight boards at once does not fill the memory', async () => {
    const { broker, messages } = await openTestBroker({ onMessage: async () => undefined })
    const before = process.memoryUsage().arrayBuffers
    const boards = await Promise.all(Array.from({ length: 8 }, () => connectRaw(broker.port)))
    // Only the sender's header counts here: the body is one shared buffer, written again and again.
    const body = Buffer.alloc(1_000_000, 0x32)
    const header = publishPacket({ topic, payload: '', packetId: 1 }).subarray(2)
    await Promise.all(
      boards.map(async ({ socket }, index) => {
        const length = packetOf(0x32, Buffer.alloc(0)).subarray(0, 1)
        socket.write(
          Buffer.concat([connectPacket(`b${index}`), length, varint(header.length + 50_000_000), header])
        )
        for (let sent = 0; sent < 50; sent += 1)
          await new Promise<void>((resolve) => socket.write(body, () => resolve()))
      })
    )
    await until(() => messages.length === 8)
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(100_000_000)
  })
})

function varint(value: number): Buffer {
  const digits: number[] = []
  let rest = value
  do {
    digits.push((rest % 128) + (rest > 127 ? 128 : 0))
    rest = Math.floor(rest / 128)
  } while (rest > 0)
  return Buffer.from(digits)
}

test('bytes that are no MQTT cost their own connection only', async () => {
  const { broker } = await openTestBroker()
  for (const bytes of [
    'GET / HTTP/1.1\r\n\r\n',
    '\u0016\u0003\u0001',
    '\u0000'.repeat(50),
    '\u00ff'.repeat(50)
  ]) {
    const raw = await connectRaw(broker.port)
    raw.socket.write(Buffer.from(bytes, 'latin1'))
    raw.socket.end()
    await until(raw.isClosed)
  }
  const raw = await connectRaw(broker.port)
  raw.socket.write(connectPacket('b1'))
  await until(() => raw.bytes().length === 4)
  expect(Array.from(raw.bytes())).toEqual([0x20, 2, 0, 0])
})
