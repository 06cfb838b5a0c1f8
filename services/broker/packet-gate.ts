import type { Socket } from 'node:net'
import { Duplex } from 'node:stream'

const publish = 3
const disconnect = 14
/** Type, flags and a length of at most four bytes (MQTT 3.1.1, section 2.2). */
const longestHeader = 5

/** A packet up to this size goes through as it is. */
export const largestPacketBytes = 256 * 1024
/** What is left of a larger PUBLISH: the longest topic, its length, the packet id, and over 64 KB of payload. */
const keptBytes = 2 + 65_535 + 2 + 64 * 1024 + 1
const largestOtherBytes = 64 * 1024

export type GateEvents = Readonly<{
  /** The board said goodbye with a DISCONNECT packet. */
  onGoodbye: () => void
}>

/**
 * Stands between a socket and the broker, whose parser would gather a packet of up to 256 MB in memory. A PUBLISH
 * that is too large is cut: its start goes on with a corrected length, the rest is dropped as it comes in. So it
 * is answered as one refused message, and a board does not send it again for ever, as it would if it were cut off.
 */
export function openPacketGate(socket: Socket, events: GateEvents): Duplex {
  const sieve = makeSieve(events)
  const gate = new Duplex({
    allowHalfOpen: false,
    read: () => {
      socket.resume()
    },
    write: (chunk: Buffer, _encoding, done) => {
      socket.write(chunk, (error) => done(error))
    },
    writev: (chunks: { chunk: Buffer }[], done) => {
      socket.write(Buffer.concat(chunks.map(({ chunk }) => chunk)), (error) => done(error))
    },
    final: (done) => {
      socket.end(() => done())
    },
    destroy: (error, done) => {
      socket.destroy()
      done(error)
    }
  })
  socket.on('data', (chunk: Buffer) => {
    const passed = sieve(chunk)
    if (passed === null) gate.destroy(new Error('packet too large or malformed'))
    else if (passed.length > 0 && !gate.push(passed)) socket.pause()
  })
  // The socket stays half open until the gate has been read to its end: a board may send and hang up at once.
  socket.on('end', () => gate.push(null))
  socket.on('error', (error) => gate.destroy(error))
  socket.on('close', () => gate.destroy())
  return gate
}

/** Passes packets on byte for byte, cuts what is too large; null where the connection must be closed. */
export function makeSieve(events: GateEvents): (chunk: Buffer) => Buffer | null {
  let header: number[] = []
  let passBytes = 0
  let dropBytes = 0
  let broken = false

  return (chunk) => {
    const passed: Buffer[] = []
    let at = 0
    while (at < chunk.length && !broken) {
      if (passBytes > 0) {
        const part = chunk.subarray(at, at + passBytes)
        passed.push(part)
        passBytes -= part.length
        at += part.length
      } else if (dropBytes > 0) {
        const skipped = Math.min(dropBytes, chunk.length - at)
        dropBytes -= skipped
        at += skipped
      } else {
        header.push(chunk[at] ?? 0)
        at += 1
        const packet = readHeader(header)
        if (packet === 'more') continue
        if (packet === 'malformed' || isForbidden(packet)) {
          broken = true
          break
        }
        const kept = packet.bytes > largestPacketBytes ? keptBytes : packet.bytes
        passed.push(writeHeader(packet.first, kept))
        passBytes = kept
        dropBytes = packet.bytes - kept
        header = []
        if (packet.type === disconnect) events.onGoodbye()
      }
    }
    if (broken) return null
    return passed.length === 1 ? (passed[0] ?? null) : Buffer.concat(passed)
  }
}

type Header = Readonly<{ first: number; type: number; bytes: number }>

const isForbidden = (packet: Header): boolean => packet.type !== publish && packet.bytes > largestOtherBytes

function readHeader(header: readonly number[]): Header | 'more' | 'malformed' {
  const [first = 0, ...length] = header
  const last = length.at(-1)
  if (last === undefined) return 'more'
  if (last >= 128) return header.length < longestHeader ? 'more' : 'malformed'
  const bytes = length.reduce((sum, digit, index) => sum + (digit & 127) * 128 ** index, 0)
  return { first, type: first >> 4, bytes }
}

function writeHeader(first: number, bytes: number): Buffer {
  const header = [first]
  let rest = bytes
  do {
    const digit = rest % 128
    rest = Math.floor(rest / 128)
    header.push(rest > 0 ? digit + 128 : digit)
  } while (rest > 0)
  return Buffer.from(header)
}
