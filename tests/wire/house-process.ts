import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { freePort } from './free-port.ts'

export const password = 'four quiet corydoras sleep'

/** The built program as a process of its own, on free ports of this machine. */
export type HouseProcess = Readonly<{
  url: string
  mqttPort: number
  dataDir: string
  output: () => string
  /** Logs in and answers a fetch that carries the session. */
  login: () => Promise<Ask>
  kill: (signal: NodeJS.Signals) => Promise<void>
}>
export type Ask = (method: string, path: string, body?: unknown) => Promise<{ status: number; body: unknown }>

export const makeDataDir = (): string => mkdtempSync(join(tmpdir(), 'shoal-'))
export const removeDataDir = (dataDir: string): void => rmSync(dataDir, { recursive: true, force: true })

/** Starts the program and waits until it says where the dashboard is. */
export async function startHouse(
  plan: Readonly<{ dataDir: string; verb?: string; env?: Readonly<Record<string, string>> }>
): Promise<HouseProcess> {
  const httpPort = await freePort()
  const mqttPort = await freePort()
  const child = spawn(process.execPath, ['dist/services/main.js', plan.verb ?? 'start'], {
    env: {
      PATH: process.env.PATH ?? '',
      HTTP_PORT: String(httpPort),
      MQTT_PORT: String(mqttPort),
      DATA_DIR: plan.dataDir,
      KEEPER_PASSWORD: password,
      LOG_LEVEL: 'warn',
      ...plan.env
    },
    stdio: ['ignore', 'pipe', 'pipe']
  })
  let output = ''
  child.stdout.on('data', (chunk: Buffer) => {
    output += chunk.toString()
  })
  child.stderr.on('data', (chunk: Buffer) => {
    output += chunk.toString()
  })
  const url = `http://127.0.0.1:${httpPort}`
  await until(
    async () => {
      if (child.exitCode !== null) throw new Error(`the program ended at its start:\n${output}`)
      return output.includes('Dashboard') && (await answers(`${url}/healthz`))
    },
    { withinMs: 30_000, what: 'the program to answer' }
  )
  return {
    url,
    mqttPort,
    dataDir: plan.dataDir,
    output: () => output,
    login: () => loginAt(url),
    kill: (signal) => end(child, signal)
  }
}

async function answers(url: string): Promise<boolean> {
  try {
    return (await fetch(url)).status > 0
  } catch {
    return false
  }
}

async function cookieAt(url: string): Promise<string> {
  const answer = await fetch(`${url}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ password })
  })
  if (!answer.ok) throw new Error(`log-in failed: ${answer.status} ${await answer.text()}`)
  return (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? ''
}

/** Hands the house a CSV file, as the import page does. */
export async function sendCsvTo(url: string, tankId: string, text: string): Promise<void> {
  const headers = { cookie: await cookieAt(url), 'content-type': 'text/csv' }
  const answer = await fetch(`${url}/api/tanks/${tankId}/import`, { method: 'POST', headers, body: text })
  if (!answer.ok) throw new Error(`the file was refused: ${await answer.text()}`)
}

export async function loginAt(url: string): Promise<Ask> {
  const cookie = await cookieAt(url)
  return async (method, path, body) => {
    const got = await fetch(`${url}${path}`, {
      method,
      headers: { cookie, ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
      ...(body === undefined ? {} : { body: JSON.stringify(body) })
    })
    const text = await got.text()
    return {
      status: got.status,
      body: /json/.test(got.headers.get('content-type') ?? '') ? JSON.parse(text) : text
    }
  }
}

async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  const ended = new Promise<void>((done) => child.once('exit', () => done()))
  child.kill(signal)
  await ended
}

/** Polls for a condition; fails with what was waited for. */
export async function until(
  condition: () => Promise<boolean> | boolean,
  { withinMs, what }: Readonly<{ withinMs: number; what: string }>
): Promise<void> {
  const lastMs = Date.now() + withinMs
  while (!(await condition())) {
    if (Date.now() > lastMs) throw new Error(`waited ${withinMs} ms in vain for ${what}`)
    await new Promise((done) => setTimeout(done, 20))
  }
}

/** A profile that is enough for most stories; species added per story. */
export const kitchen = {
  id: 'kitchen',
  name: 'Kitchen',
  volumeL: 96,
  setpointC: 24.5,
  heaterW: 100,
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  timeZone: 'Europe/Vienna'
} as const
