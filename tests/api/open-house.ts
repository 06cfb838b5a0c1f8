import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pino from 'pino'
import type { ApiPorts } from '../../services/api/api-parts.ts'
import { type Api, openApi } from '../../services/api/open-api.ts'
import { makePasswordHashing } from '../../services/api/password-hash.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { Role, TankRecord } from '../../services/tank/record.ts'
import { makeAlertsDouble } from './alerts-double.ts'
import { type DeskDouble, makeDeskDouble } from './desk-double.ts'

export const password = 'four quiet corydoras sleep'
export const setupCode = 'ABCD-EFGH'
export const profile = {
  name: 'Kitchen',
  volumeL: 96,
  setpointC: 24,
  kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
  timeZone: 'Europe/Vienna'
} as const

export type Answer = Readonly<{
  status: number
  headers: Readonly<Record<string, unknown>>
  body: unknown
  /** The body as it was sent. */
  text: string
  /** `name=value` of the session cookie, where one was set. */
  cookie: string | null
}>
export type Ask = Readonly<{
  body?: unknown
  /** A body that is not made from JSON. */
  raw?: string | Buffer
  cookie?: string | null
  headers?: Readonly<Record<string, string>>
  from?: string
}>
export type House = Readonly<{
  api: Api
  record: TankRecord
  desk: DeskDouble
  clock: { nowMs: number }
  ask: (method: string, url: string, ask?: Ask) => Promise<Answer>
  /** A cookie of that role. */
  enter: (role: Role) => Promise<string>
  dataDir: string
  close: () => Promise<void>
}>

/** Opens the HTTP door over a real record in a folder of its own; nobody listens unless asked. */
export async function openTestHouse(
  change: Partial<ApiPorts> & Readonly<{ dataDir?: string; startMs?: number; isSetUp?: boolean }> = {}
): Promise<House> {
  const { dataDir = mkdtempSync(join(tmpdir(), 'api-')), startMs, isSetUp = true, ...ports } = change
  const clock = { nowMs: startMs ?? Date.parse('2026-11-25T12:00:00Z') }
  const record = await openRecord({ dataDir, commitWindowMs: 0 })
  const desk = makeDeskDouble({ clock: () => clock.nowMs })
  const api = await openApi({
    record,
    desk,
    alerts: makeAlertsDouble(),
    clock: () => clock.nowMs,
    log: pino({ level: 'silent' }),
    config: {
      httpHost: null,
      mqttHost: null,
      keeperPassword: isSetUp ? password : null,
      publicUrl: null
    },
    version: '0.1.0',
    setupCode,
    dashboardDir: null,
    listen: null,
    mqttListen: { host: '127.0.0.1', port: 1883 },
    files: noFiles,
    mqttExternal: null,
    foreign: noTopics,
    takePack: async () => ({ stored: 0, same: 0, conflicts: 0, held: 0, refused: [] }),
    clockMarks: () => [],
    refusedClients: () => [],
    // The full cost of a hash has a test of its own; here it would only make the tests slow.
    passwordHashing: makePasswordHashing({ logN: 4 }),
    ...ports
  })
  const ask = makeAsk(api)
  return {
    api,
    record,
    desk,
    clock,
    ask,
    enter: (role) => enter(ask, role),
    dataDir,
    close: async () => {
      await api.close()
      await record.close()
      if (change.dataDir === undefined) rmSync(dataDir, { recursive: true, force: true })
    }
  }
}

const noTopics: ApiPorts['foreign'] = {
  listen: () => ({ untilMs: 0, topics: [], more: 0 }),
  assignments: () => [],
  assign: async () => 'added',
  unassign: async () => false
}

const noFiles: ApiPorts['files'] = {
  exportCsv: async function* ({ tankId }) {
    yield 'time,kind,quantity,value,unit,basis,probe,flag,note\r\n'
    yield `2026-11-25T12:00:00.000Z,event,note,,,,,,${tankId}\r\n`
  },
  importCsv: async ({ text }) => ({
    readingsNew: text.split('\n').length,
    readingsSame: 0,
    conflicts: 0,
    testsNew: 0,
    testsSame: 0,
    eventsNew: 0,
    eventsSame: 0,
    fromMs: 1000,
    skipped: []
  })
}

function makeAsk(api: Api): House['ask'] {
  return async (method, url, ask = {}) => {
    const hasBody = ask.raw !== undefined || ask.body !== undefined
    const payload = ask.raw ?? (ask.body === undefined ? undefined : JSON.stringify(ask.body))
    const response = await api.app.inject({
      method: method as 'GET',
      url,
      remoteAddress: ask.from ?? '127.0.0.1',
      headers: {
        host: 'localhost:4680',
        ...(hasBody ? { 'content-type': 'application/json' } : {}),
        ...(ask.cookie ? { cookie: ask.cookie } : {}),
        ...ask.headers
      },
      ...(payload === undefined ? {} : { payload })
    })
    const set = [response.headers['set-cookie']].flat().find((one) => one?.includes('shoal-session='))
    const type = String(response.headers['content-type'] ?? '')
    return {
      status: response.statusCode,
      headers: response.headers,
      text: response.body,
      body: /json/.test(type) && response.body !== '' ? JSON.parse(response.body) : response.body,
      cookie: set?.split(';')[0] ?? null
    }
  }
}

async function enter(ask: House['ask'], role: Role): Promise<string> {
  const keeper = await ask('POST', '/api/session', { body: { password } })
  if (keeper.cookie === null) throw new Error(`log-in failed: ${keeper.text}`)
  if (role === 'keeper') return keeper.cookie
  const invited = await ask('POST', '/api/tablets', { cookie: keeper.cookie, body: { label: role, role } })
  const { code } = invited.body as { code: string }
  const joined = await ask('POST', '/api/tablets/join', { body: { code } })
  if (joined.cookie === null) throw new Error(`joining failed: ${joined.text}`)
  return joined.cookie
}
