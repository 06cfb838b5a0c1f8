import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { connect as connectSocket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { freePort } from '../wire/free-port.ts'

const places = ['/usr/sbin/mosquitto', '/usr/bin/mosquitto', '/usr/local/sbin/mosquitto']
export const mosquittoPath = places.find((path) => existsSync(path)) ?? null
export const whyNoMosquitto = 'mosquitto is not here: apt-get install mosquitto'

/** Polls for a condition; fails loudly where it does not come. */
export async function until(what: string, holds: () => boolean | Promise<boolean>, withinMs = 20_000) {
  const end = Date.now() + withinMs
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`did not happen within ${withinMs} ms: ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 25))
  }
}

const answers = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connectSocket({ port, host: '127.0.0.1' })
    socket.once('connect', () => {
      socket.destroy()
      resolve(true)
    })
    socket.once('error', () => resolve(false))
  })

/** Ends a process that this test started, and waits until it is gone. */
export async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  child.kill(signal)
  await until(
    `the end of process ${child.pid} by ${signal}`,
    () => child.exitCode !== null || child.signalCode !== null
  )
}

/** A broker of our own on a free port of this machine, with its memory on disk between two runs. */
export async function makeMosquitto() {
  const folder = mkdtempSync(join(tmpdir(), 'mosquitto-'))
  const port = await freePort()
  writeFileSync(
    join(folder, 'broker.conf'),
    [
      `listener ${port} 127.0.0.1`,
      'allow_anonymous true',
      'persistence true',
      `persistence_location ${folder}/`,
      'max_queued_messages 0',
      'user root',
      ''
    ].join('\n')
  )
  let child: ChildProcess | null = null
  const start = async (): Promise<void> => {
    child = spawn(mosquittoPath ?? '', ['-c', join(folder, 'broker.conf')], { stdio: 'ignore' })
    await until('the broker answers', () => answers(port))
  }
  const stop = async (): Promise<void> => {
    if (child !== null) await end(child, 'SIGTERM')
    child = null
  }
  return {
    url: `mqtt://127.0.0.1:${port}`,
    start,
    stop,
    close: async (): Promise<void> => {
      await stop()
      rmSync(folder, { recursive: true, force: true })
    }
  }
}
