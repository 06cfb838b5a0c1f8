import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir, userInfo } from 'node:os'
import { join } from 'node:path'
import { connectAsync } from 'mqtt'
import { freePort } from '../wire/free-port.ts'

/** Whether Debian's broker is on this machine; named in the titles of what is skipped without it. */
export const hasMosquitto = (() => {
  try {
    execFileSync('mosquitto', ['-h'], { stdio: 'ignore' })
    return true
  } catch (cause) {
    // It answers its help with an exit code of its own; only a missing program is a missing program.
    return (cause as { code?: string }).code !== 'ENOENT'
  }
})()
export const withMosquitto = '(needs mosquitto: apt-get install -y mosquitto)'

export type Mosquitto = Readonly<{
  port: number
  url: string
  dir: string
  start: () => Promise<void>
  stop: (signal: NodeJS.Signals) => Promise<void>
  remove: () => Promise<void>
}>

/** A broker of its own folder and port, set up as the README advises for boards that must lose nothing. */
export async function openMosquitto(
  plan: Readonly<{
    lines?: readonly string[]
    anonymous?: boolean
    scheme?: 'mqtt' | 'mqtts'
    /** Speaks TLS with a certificate that signs itself: `certificate.pem` in its folder. */
    certificate?: boolean
  }> = {}
): Promise<Mosquitto> {
  const dir = mkdtempSync(join(tmpdir(), 'mosquitto-'))
  const port = await freePort()
  const conf = join(dir, 'mosquitto.conf')
  if (plan.certificate === true) makeCertificate(dir)
  const passwords = join(dir, 'passwords')
  if (plan.anonymous === false) {
    writeFileSync(passwords, 'shoal:four quiet corydoras\n', { mode: 0o600 })
    execFileSync('mosquitto_passwd', ['-U', passwords])
  }
  writeFileSync(
    conf,
    [
      `listener ${port} 127.0.0.1`,
      `allow_anonymous ${plan.anonymous ?? true}`,
      // Started by root it would become another user, who may not write in this folder.
      `user ${userInfo().username}`,
      'persistence true',
      `persistence_location ${dir}/`,
      'autosave_interval 1',
      'max_queued_messages 0',
      'max_inflight_messages 100',
      ...(plan.certificate === true ? [`certfile ${dir}/certificate.pem`, `keyfile ${dir}/key.pem`] : []),
      ...(plan.lines ?? []).map((line) => line.replaceAll('%dir%', dir)),
      ''
    ].join('\n')
  )
  let child: ChildProcess | null = null
  const stop = async (signal: NodeJS.Signals): Promise<void> => {
    const running = child
    child = null
    if (running === null || running.exitCode !== null) return
    const ended = new Promise<void>((done) => running.once('exit', () => done()))
    running.kill(signal)
    await ended
  }
  const start = async (): Promise<void> => {
    let said = ''
    const running = spawn('mosquitto', ['-c', conf], { stdio: ['ignore', 'pipe', 'pipe'] })
    child = running
    for (const out of [running.stdout, running.stderr])
      out?.on('data', (chunk: Buffer) => {
        said += chunk.toString()
      })
    const deadline = Date.now() + 10_000
    while (!/running/.test(said)) {
      if (running.exitCode !== null || Date.now() > deadline) throw new Error(`mosquitto: ${said}`)
      await new Promise((done) => setTimeout(done, 20))
    }
  }
  await start()
  return {
    port,
    url: `${plan.scheme ?? 'mqtt'}://127.0.0.1:${port}`,
    dir,
    start,
    stop,
    remove: async () => {
      await stop('SIGKILL')
      rmSync(dir, { recursive: true, force: true })
    }
  }
}

function makeCertificate(dir: string): void {
  const words =
    'req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 -subj /CN=127.0.0.1'
  const names = ['-addext', 'subjectAltName=IP:127.0.0.1']
  const files = ['-keyout', join(dir, 'key.pem'), '-out', join(dir, 'certificate.pem')]
  execFileSync('openssl', [...words.split(' '), ...names, ...files], { stdio: 'ignore' })
}

/** Publishes as a board does, and answers once the broker has acknowledged all of it. */
export async function publishAll(
  port: number,
  messages: readonly Readonly<{ topic: string; payload: string; retain?: boolean }>[]
): Promise<void> {
  const board = await connectAsync(`mqtt://127.0.0.1:${port}`, { protocolVersion: 4, reconnectPeriod: 0 })
  await Promise.all(
    messages.map(({ topic, payload, retain = false }) =>
      board.publishAsync(topic, payload, { qos: 1, retain })
    )
  )
  await board.endAsync()
}
