import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import mqtt from 'mqtt'
import { describe, expect, test } from 'vitest'
import { openRecord } from '../../services/store/open-record.ts'
import { hasMosquitto, type Mosquitto, openMosquitto, withMosquitto } from '../broker/mosquitto.ts'
import { kitchen, makeDataDir, removeDataDir, until } from '../wire/house-process.ts'

const script = fileURLToPath(new URL('./external-writer.mjs', import.meta.url))
const { id, ...profile } = kitchen
const rounds = 4

type Writer = Readonly<{ connected: () => boolean; kill: () => Promise<void> }>
function startWriter(broker: Mosquitto, dataDir: string, version: 4 | 5): Writer {
  let said = ''
  const child: ChildProcess = spawn(process.execPath, [script, broker.url, dataDir, String(version)], {
    stdio: ['ignore', 'pipe', 'pipe']
  })
  for (const out of [child.stdout, child.stderr])
    out?.on('data', (chunk: Buffer) => {
      said += chunk.toString()
    })
  return {
    connected: () => {
      if (child.exitCode !== null) throw new Error(said)
      return said.includes('connected')
    },
    kill: async () => {
      const ended = new Promise<void>((done) => child.once('exit', () => done()))
      child.kill('SIGKILL')
      await ended
    }
  }
}

/** Publishes numbered readings, each under a time of its own, until it is told to stop. */
async function openStream(broker: Mosquitto, firstMs: number) {
  const board = await mqtt.connectAsync(broker.url, {
    clientId: 'board',
    protocolVersion: 4,
    reconnectPeriod: 100
  })
  board.on('error', () => undefined)
  const acknowledged = new Set<number>()
  let next = 0
  let isOver = false
  const publishing = Array.from({ length: 20 }, async () => {
    while (!isOver) {
      const number = next++
      const payload = JSON.stringify({ value: 20 + (number % 1000) / 1000, time: (firstMs + number) / 1000 })
      await board.publishAsync('shoal/kitchen/t1/temperature', payload, { qos: 1 }).then(
        () => acknowledged.add(number),
        () => undefined
      )
      await new Promise((done) => setTimeout(done, 2))
    }
  })
  return {
    acknowledged,
    stop: async () => {
      isOver = true
      await Promise.all(publishing)
      await board.endAsync(true)
    }
  }
}

describe.skipIf(!hasMosquitto)(`killed in the middle of a stream ${withMosquitto}`, () => {
  for (const version of [4, 5] as const)
    test(`the watch loses nothing that the external broker had taken, and doubles nothing: ${
      version === 4 ? 'MQTT 3.1.1' : 'MQTT 5'
    }`, async () => {
      const dataDir = makeDataDir()
      const broker = await openMosquitto()
      const firstMs = Date.now() - 86_400_000
      try {
        const record = await openRecord({ dataDir })
        await record.addTank({ id, profile, atMs: firstMs })
        await record.close()
        let writer = startWriter(broker, dataDir, version)
        await until(writer.connected, { withinMs: 40_000, what: 'the first connection' })
        const stream = await openStream(broker, firstMs)
        for (let round = 1; round <= rounds; round++) {
          await new Promise((done) => setTimeout(done, 150 + 97 * round))
          await writer.kill()
          writer = startWriter(broker, dataDir, version)
          await until(writer.connected, { withinMs: 40_000, what: `connection ${round}` })
        }
        await stream.stop()
        const seen = async (): Promise<readonly number[]> => {
          const reader = await openRecord({ dataDir, readOnly: true })
          const found = await reader.readings({ tankId: id, fromMs: 0, toMs: Date.now() + 1000 })
          await reader.close()
          return found.map(({ atMs }) => atMs - firstMs)
        }
        // All that came in order is there once the last of it is.
        const last = Math.max(...stream.acknowledged)
        await until(async () => (await seen()).includes(last), { withinMs: 60_000, what: 'the last reading' })
        await writer.kill()
        const stored = await seen()
        expect(stream.acknowledged.size).toBeGreaterThan(300)
        expect(new Set(stored).size).toBe(stored.length)
        const known = new Set(stored)
        expect([...stream.acknowledged].filter((number) => !known.has(number))).toEqual([])
      } finally {
        await broker.remove()
        removeDataDir(dataDir)
      }
    }, 240_000)
})
