import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { permissions } from '../../services/api/permissions.ts'
import type { Role } from '../../services/tank/record.ts'
import { coldWater } from './desk-double.ts'
import { type Ask, type House, openTestHouse, profile } from './open-house.ts'

/**
 * Who may do what, written down again from the promise made to others: `keeper` all; `helper` view, tests, events,
 * acknowledge; `wall` view, acknowledge, "hands in the tank", "filter off for a moment", tests if allowed.
 * K keeper, H helper, W wall, - nobody logged in.
 */
const promised: Readonly<Record<string, string>> = {
  'GET /healthz': 'KHW-',
  'GET /api/openapi.json': 'KHW-',
  'GET /api/me': 'KHW-',
  'POST /api/setup': 'KHW-',
  'POST /api/session': 'KHW-',
  'DELETE /api/session': 'KHW-',
  'POST /api/tablets/join': 'KHW-',
  'GET /api/calculate': 'KHW-',
  'POST /api/calculate/:name': 'KHW-',
  'GET /': 'KHW-',
  'GET /*': 'KHW-',
  'GET /api/settings': 'KHW',
  'PUT /api/settings': 'K',
  'GET /api/species': 'KHW',
  'GET /api/tablets': 'K',
  'POST /api/tablets': 'K',
  'DELETE /api/tablets/:id': 'K',
  'GET /api/boards': 'K',
  'POST /api/boards': 'K',
  'DELETE /api/boards/:id': 'K',
  'GET /api/tanks': 'KHW',
  'POST /api/tanks': 'K',
  'GET /api/tanks/:tank': 'KHW',
  'PATCH /api/tanks/:tank': 'K',
  'DELETE /api/tanks/:tank': 'K',
  'GET /api/tanks/:tank/now': 'KHW',
  'GET /api/tanks/:tank/history': 'KHW',
  'GET /api/tanks/:tank/series/:quantity': 'KHW',
  'GET /api/live': 'KHW',
  'POST /api/tanks/:tank/looks-wrong': 'KHW',
  'GET /api/tanks/:tank/tests': 'KHW',
  'POST /api/tanks/:tank/tests': 'KHW',
  'PATCH /api/tanks/:tank/tests/:id': 'KH',
  'DELETE /api/tanks/:tank/tests/:id': 'KHW',
  'GET /api/tanks/:tank/tests/:id/amendments': 'KH',
  'GET /api/tanks/:tank/events': 'KHW',
  'POST /api/tanks/:tank/events': 'KHW',
  'PATCH /api/tanks/:tank/events/:id': 'KH',
  'DELETE /api/tanks/:tank/events/:id': 'KHW',
  'GET /api/tanks/:tank/events/:id/amendments': 'KH',
  'GET /api/tanks/:tank/export.csv': 'KH',
  'POST /api/tanks/:tank/import': 'K',
  'GET /api/alarms': 'KHW',
  'GET /api/alarms/noise': 'KHW',
  'POST /api/alarms/:id/acknowledge': 'KHW',
  'POST /api/alarms/:id/shelve': 'K',
  'POST /api/alarms/:id/unshelve': 'K',
  'POST /api/alarms/:id/reset': 'K',
  'GET /api/alerts': 'KHW',
  'POST /api/alerts/test': 'K',
  'GET /api/messages': 'KH',
  'GET /api/contacts': 'K',
  'POST /api/contacts': 'K',
  'PUT /api/contacts/:id': 'K',
  'DELETE /api/contacts/:id': 'K',
  'GET /api/holiday': 'KHW',
  'PUT /api/holiday': 'K',
  'DELETE /api/holiday': 'K',
  'GET /api/heartbeat': 'K',
  'PUT /api/heartbeat': 'K',
  'DELETE /api/heartbeat': 'K',
  'GET /a/page.css': 'KHW-',
  'GET /a/:token': 'KHW-',
  'POST /a/:token': 'KHW-',
  'GET /api/tanks/:tank/upkeep': 'KHW',
  'POST /api/tanks/:tank/upkeep/:task': 'KH',
  'GET /api/tanks/:tank/upkeep.ics': 'KHW-',
  'GET /api/feeds': 'K',
  'POST /api/feeds': 'K',
  'DELETE /api/feeds/:id': 'K',
  'GET /api/probes': 'KHW',
  'PATCH /api/probes/:id': 'K',
  'POST /api/probes': 'K',
  'GET /api/probes/:id': 'KHW',
  'GET /api/probes/:id/drift': 'KHW',
  'GET /api/probes/:id/stability': 'KH',
  'GET /api/probes/:id/calibrations': 'KH',
  'POST /api/probes/:id/calibrations': 'K',
  'DELETE /api/probes/:id/calibrations/:calibration': 'K',
  'POST /api/probes/:id/lives': 'K',
  'DELETE /api/probes/:id/lives/:life': 'K',
  'DELETE /api/probes/assignments/:id': 'K',
  'GET /api/heard': 'K',
  'POST /api/readings': 'board',
  'GET /api/refused': 'KH'
}
/** Need a socket, or a board, and have tests of their own. */
const streams = new Set(['GET /api/live', 'POST /api/readings'])

let house: House
beforeAll(async () => {
  house = await openTestHouse()
  const keeper = await house.enter('keeper')
  for (const id of ['kitchen', 'spare'])
    await house.ask('POST', '/api/tanks', { cookie: keeper, body: { ...profile, id } })
})
afterAll(() => house.close())

const letters: Readonly<Record<string, Role | null>> = { K: 'keeper', H: 'helper', W: 'wall', '-': null }
const refusals = ['API_NO_SESSION', 'API_NOT_ALLOWED']

/** One session of each role serves all rows but those that end it. */
const cookies = new Map<Role, string>()
async function cookieFor(role: Role | null, row: string): Promise<string | null> {
  if (role === null) return null
  const known = cookies.get(role)
  if (known !== undefined && !row.endsWith(' /api/session')) return known
  const fresh = await house.enter(role)
  if (known === undefined) cookies.set(role, fresh)
  return row.endsWith(' /api/session') ? house.enter(role) : fresh
}

async function askAs(letter: string, row: string): Promise<{ status: number; code: string | undefined }> {
  const role = letters[letter] ?? null
  const [method = '', path = ''] = row.split(' ')
  const url = path
    .replace(':tank', method === 'DELETE' && path.endsWith(':tank') ? 'spare' : 'kitchen')
    .replace(':quantity', 'temperature')
    .replace(':id', 'nothing-of-this-id')
    .replace('*', '')
  const ask: Ask = {
    cookie: await cookieFor(role, row),
    ...(method === 'GET' || method === 'DELETE' ? {} : { body: {} })
  }
  const { status, body } = await house.ask(method, url, ask)
  return { status, code: (body as { code?: string } | null)?.code }
}

describe('the table of permissions', () => {
  it('says the same as what was promised, row by row', () => {
    const letterOf = { keeper: 'K', helper: 'H', wall: 'W' }
    const told = Object.fromEntries(
      Object.entries(permissions).map(([row, allowed]) => [
        row,
        allowed === 'board'
          ? 'board'
          : allowed === 'anyone'
            ? 'KHW-'
            : allowed.map((role) => letterOf[role]).join('')
      ])
    )
    expect(told).toEqual(promised)
  })

  for (const [row, allowed] of Object.entries(promised))
    for (const letter of ['K', 'H', 'W', '-']) {
      if (streams.has(row)) continue
      const may = allowed.includes(letter)
      it(`${may ? 'lets' : 'keeps'} ${letters[letter] ?? 'a stranger'} ${may ? 'do' : 'from'} ${row}`, async () => {
        const { status, code } = await askAs(letter, row)
        if (may)
          expect(status === 401 || refusals.includes(code ?? ''), `${status} ${code}`).toBe(
            isNarrow(letter, row)
          )
        else expect(code).toBe(letter === '-' ? 'API_NO_SESSION' : 'API_NOT_ALLOWED')
      })
    }
})

/** Rows in which a wall tablet meets a finer check than the table can say; each has its test below. */
function isNarrow(letter: string, row: string): boolean {
  if (row === 'DELETE /api/tanks/:tank/tests/:id' || row === 'DELETE /api/tanks/:tank/events/:id')
    return letter === 'W'
  return false
}

describe('a wall tablet', () => {
  const enterEvent = (cookie: string, kind: string, data?: object) =>
    house.ask('POST', '/api/tanks/kitchen/events', {
      cookie,
      body: { atMs: house.clock.nowMs, kind, ...(data === undefined ? {} : { data }) }
    })
  const test = () => ({
    takenAt: house.clock.nowMs,
    results: [{ quantity: 'ammonia', value: 0.25, unit: 'mg/L' }]
  })

  it('enters hands in the tank and a stopped filter, and no other event', async () => {
    const wall = await house.enter('wall')
    expect((await enterEvent(wall, 'maintenance-started', { minutes: 30 })).status).toBe(201)
    expect((await enterEvent(wall, 'maintenance-ended')).status).toBe(201)
    expect((await enterEvent(wall, 'filter-stopped')).status).toBe(201)
    expect((await enterEvent(wall, 'filter-started')).status).toBe(201)
    expect((await enterEvent(wall, 'fed')).body).toMatchObject({ code: 'API_NOT_ALLOWED' })
    expect((await enterEvent(wall, 'water-changed', { fraction: 0.3 })).status).toBe(403)
    expect((await enterEvent(wall, 'note')).status).toBe(403)
  })

  it('enters water tests only once the keeper allows it', async () => {
    const keeper = await house.enter('keeper')
    const wall = await house.enter('wall')
    const enterTest = () => house.ask('POST', '/api/tanks/kitchen/tests', { cookie: wall, body: test() })
    expect((await enterTest()).status).toBe(403)
    await house.ask('PUT', '/api/settings', { cookie: keeper, body: { tabletsMayTest: true } })
    expect((await enterTest()).status).toBe(201)
    await house.ask('PUT', '/api/settings', { cookie: keeper, body: { tabletsMayTest: false } })
    expect((await enterTest()).status).toBe(403)
  })

  it('takes back what it has just entered, for ten minutes, and nothing of others', async () => {
    const keeper = await house.enter('keeper')
    const wall = await house.enter('wall')
    const idOf = async (answer: ReturnType<typeof enterEvent>) => ((await answer).body as { id: string }).id
    const takeBack = (id: string) => house.ask('DELETE', `/api/tanks/kitchen/events/${id}`, { cookie: wall })
    expect((await takeBack(await idOf(enterEvent(keeper, 'fed')))).status).toBe(403)
    expect((await takeBack(await idOf(enterEvent(wall, 'filter-stopped')))).status).toBe(204)
    const late = await idOf(enterEvent(wall, 'filter-stopped'))
    house.clock.nowMs += 11 * 60_000
    expect((await takeBack(late)).status).toBe(403)
  })

  it('acknowledges an alarm under its own label', async () => {
    const wall = await house.enter('wall')
    const done = await house.ask('POST', `/api/alarms/${coldWater.id}/acknowledge`, { cookie: wall })
    expect(done.status).toBe(204)
    expect(house.desk.acted.at(-1)).toEqual({
      id: coldWater.id,
      action: 'acknowledge',
      by: 'wall, from 127.0.0.1'
    })
  })
})
