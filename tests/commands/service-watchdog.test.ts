import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import { isStuck, startServiceWatchdog } from '../../services/commands/service-watchdog.ts'
import { makeFolder } from '../store/kitchen.ts'
import { until } from '../wire/house-process.ts'

const hasNotify = (): boolean => {
  try {
    execFileSync('systemd-notify', ['--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}

/** The receiving end of sd_notify(3): a datagram socket in the file system, opened by Python. */
const listener = `
import socket, sys
s = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
s.bind(sys.argv[1])
while True:
    print(s.recv(4096).decode().strip(), flush=True)
`

describe('a process under systemd', () => {
  const folder = makeFolder()
  let child: ChildProcess | null = null
  afterEach(() => {
    child?.kill('SIGKILL')
    folder.remove()
  })

  it.skipIf(!hasNotify())(
    'says that it is alive while it works, and falls silent once it is stuck',
    async () => {
      const socket = join(folder.dataDir, 'notify')
      child = spawn('python3', ['-c', listener, socket], { stdio: ['ignore', 'pipe', 'inherit'] })
      let heard = ''
      child.stdout?.on('data', (chunk: Buffer) => {
        heard += chunk.toString()
      })
      await until(() => existsSync(socket), { withinMs: 15_000, what: 'the listener' })
      let nowMs = 0
      const stop = startServiceWatchdog({
        environment: { NOTIFY_SOCKET: socket, WATCHDOG_USEC: '400000', PATH: process.env.PATH },
        health: () => ({ lastTickMs: 0, lastFailure: null }),
        clock: () => nowMs,
        onFault: (cause) => {
          throw cause
        }
      })
      const times = () => heard.split('\n').filter((line) => line === 'WATCHDOG=1').length
      await until(() => times() >= 3, { withinMs: 20_000, what: 'three signs of life' })
      nowMs = 61_000
      // Signs already on their way arrive; then none is added over many of its intervals.
      let last = -1
      await until(
        async () => {
          const before = times()
          await new Promise((done) => setTimeout(done, 1500))
          last = times()
          return last === before
        },
        { withinMs: 20_000, what: 'silence' }
      )
      stop()
      expect(heard.replaceAll(/WATCHDOG=1\n/g, '')).toBe('')
      expect(last).toBeGreaterThanOrEqual(3)
    },
    60_000
  )

  it('under anything else starts no program at all', () => {
    const health = () => {
      throw new Error('asked')
    }
    const given = { health, clock: () => 0, onFault: () => undefined }
    for (const environment of [
      {},
      { NOTIFY_SOCKET: '/x' },
      { WATCHDOG_USEC: '1000000' },
      { NOTIFY_SOCKET: '/x', WATCHDOG_USEC: 'no' }
    ])
      startServiceWatchdog({ ...given, environment })()
  })
})

describe('being stuck', () => {
  const given = { nowMs: 100_000, startedAtMs: 0 }
  it.each([
    ['judging goes on', { lastTickMs: 99_000, lastFailure: null }, false],
    ['judging stands still and nobody says why', { lastTickMs: 30_000, lastFailure: null }, true],
    ['judging fails and says why', { lastTickMs: 30_000, lastFailure: 'The disk is full.' }, false],
    ['judging never began', { lastTickMs: null, lastFailure: null }, true]
  ])('%s', (_name, health, expected) => {
    expect(isStuck(health, given)).toBe(expected)
  })
})
