import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
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

const canVerify = (): boolean => {
  try {
    execFileSync('systemd-analyze', ['--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}
const verified = (path: string): string => {
  const { stdout, stderr } = spawnSync('systemd-analyze', ['verify', '--man=no', path], { encoding: 'utf8' })
  return `${stdout}\n${stderr}`
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
      // The barrier lets the sender wait until the message was taken (sd_notify_barrier(3)).
      expect(heard.replaceAll(/(WATCHDOG|BARRIER)=1\n/g, '')).toBe('')
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

describe('the service file', () => {
  const file = readFileSync('services/shoalkeeper.service', 'utf8')
  const settingOf = (name: string): string | undefined => new RegExp(`^${name}=(.*)$`, 'm').exec(file)?.[1]

  it('is the one that README shows', () => {
    expect(readFileSync('README.md', 'utf8')).toContain(`\`\`\`ini\n${file}\`\`\``)
  })

  it('lets a child of the service say that it is alive, in time, and starts it anew whenever it ends', () => {
    // systemd.service(5): the program that speaks for us is a child, which only "all" listens to.
    expect(settingOf('NotifyAccess')).toBe('all')
    expect(settingOf('Restart')).toBe('always')
    const halfMs = (Number(settingOf('WatchdogSec')) * 1000) / 2
    // A sign of life each half of it, and the judging may stand still for a minute before it counts as stuck.
    expect(halfMs).toBeGreaterThanOrEqual(60_000)
    const dir = settingOf('StateDirectory')
    expect(settingOf('Environment')).toBe(`DATA_DIR=/var/lib/${dir}`)
  })

  it.skipIf(!canVerify())('is understood by systemd', () => {
    const folder = makeFolder()
    const faultsOf = (text: string): readonly string[] => {
      const path = join(folder.dataDir, 'shoalkeeper.service')
      writeFileSync(path, text)
      // That program and user are not on this machine may be said.
      return verified(path)
        .split('\n')
        .filter((line) => line.includes('shoalkeeper.service') && !/not executable|user/i.test(line))
    }
    expect(faultsOf(file)).toEqual([])
    expect(faultsOf(file.replace('NotifyAccess=all', 'NotifyAccess=everybody'))).toHaveLength(1)
    folder.remove()
  })
})
