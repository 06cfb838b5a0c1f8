import ICAL from 'ical.js'
import { DateTime } from 'luxon'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { upkeepCalendar } from '../../services/api/upkeep-calendar.ts'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
let keeper: string
beforeEach(async () => {
  house = await openTestHouse()
  keeper = await house.enter('keeper')
  for (const id of ['kitchen', 'other'])
    await house.ask('POST', '/api/tanks', {
      cookie: keeper,
      body: { ...profile, id, name: 'Küche; groß, "hell" \\', species: [{ id: 'puntius-titteya', count: 6 }] }
    })
})
afterEach(() => house.close())

const makeFeed = async (tankId = 'kitchen') =>
  (await house.ask('POST', '/api/feeds', { cookie: keeper, body: { tankId, label: 'telephone' } })).body as {
    id: string
    path: string
  }
const entriesOf = (text: string, name: 'vevent' | 'vtodo') =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents(name)
const textOf = (entry: InstanceType<typeof ICAL.Component>, name: string) =>
  String(entry.getFirstPropertyValue(name))

describe('the upkeep of a tank', () => {
  it('is listed for everybody, done by a touch of keeper or helper, and then due later', async () => {
    const wall = await house.enter('wall')
    const list = async () =>
      (await house.ask('GET', '/api/tanks/kitchen/upkeep', { cookie: wall })).body as {
        task: string
        dueAtMs: number
        byTouch: boolean
        lastDoneMs: number | null
      }[]
    const before = (await list()).find(({ task }) => task === 'filter-care')
    expect(before).toMatchObject({ byTouch: true, lastDoneMs: null })
    const helper = await house.enter('helper')
    house.clock.nowMs += 3_600_000
    const path = '/api/tanks/kitchen/upkeep/filter-care'
    const done = await house.ask('POST', path, { cookie: helper, body: { clientKey: 'k' } })
    expect(done.status).toBe(201)
    expect((await house.ask('POST', path, { cookie: helper, body: { clientKey: 'k' } })).body).toEqual(
      done.body
    )
    const after = (await list()).find(({ task }) => task === 'filter-care')
    expect(after?.lastDoneMs).toBe(house.clock.nowMs)
    const events = await house.record.events({ tankId: 'kitchen' })
    expect(events.map(({ kind, data }) => [kind, data])).toEqual([['filter-cleaned', { how: 'tank-water' }]])
    expect(house.desk.heard).toContain(`entriesChanged kitchen ${house.clock.nowMs}`)
  })

  it.each(['calibrate-ph-probe', 'heater-check', 'seals-check'])('knows the touch for %s', async (task) => {
    const answer = await house.ask('POST', `/api/tanks/kitchen/upkeep/${task}`, { cookie: keeper })
    expect(answer.status).toBe(201)
  })

  it('counts the pH probe from its stored calibration, and from none that was withdrawn', async () => {
    const atMs = house.clock.nowMs
    const reading = {
      ...{ tankId: 'kitchen', probe: 'p1', quantity: 'ph' as const, value: 7.1, atMs, arrivedAtMs: atMs },
      ...{ clock: 'device' as const, flag: 1 as const }
    }
    const [stored] = await house.record.appendReadings([reading])
    const due = async () => {
      const list = (await house.ask('GET', '/api/tanks/kitchen/upkeep', { cookie: keeper })).body as {
        task: string
        lastDoneMs: number | null
        why: string
      }[]
      return list.find(({ task }) => task === 'calibrate-ph-probe')
    }
    expect((await due())?.lastDoneMs).toBeNull()
    const probeId = stored?.probeId ?? ''
    const made = await house.record.addCalibration({
      probeId,
      quantity: 'ph',
      calibration: { kind: 'offset', offset: 0.1, fromMs: atMs, mode: 'step', madeAtMs: atMs },
      by: 'keeper'
    })
    expect(await due()).toMatchObject({ lastDoneMs: atMs, why: expect.stringMatching(/^Every 30 days: /) })
    await house.record.withdrawCalibration({ probeId, id: made.id, by: 'keeper', atMs })
    expect((await due())?.lastDoneMs).toBeNull()
  })

  it.each(['water-change', 'test-water', 'nothing'])('takes no mere touch for %s', async (task) => {
    const answer = await house.ask('POST', `/api/tanks/kitchen/upkeep/${task}`, { cookie: keeper })
    expect(answer.body).toMatchObject({ code: 'API_BAD_INPUT' })
  })

  it('rings nobody: no alarm in the calendar, no message', async () => {
    const { path } = await makeFeed()
    expect((await house.ask('GET', path)).text).not.toContain('VALARM')
    expect(await house.record.messages({})).toEqual([])
  })
})

describe('the calendar', () => {
  it('is read by a calendar library as whole days with the words as they are', async () => {
    const { path } = await makeFeed()
    const { text, headers } = await house.ask('GET', path)
    expect(headers['content-type']).toBe('text/calendar; charset=utf-8')
    const events = entriesOf(text, 'vevent')
    const wanted = (await house.ask('GET', '/api/tanks/kitchen/upkeep', { cookie: keeper })).body as {
      task: string
      title: string
      words: string
      caution: string
      dueAtMs: number
    }[]
    expect(events.length).toBe(wanted.length)
    wanted.forEach((task, index) => {
      const event = events[index]
      if (event === undefined) throw new Error('missing')
      expect(textOf(event, 'summary')).toBe(`Küche; groß, "hell" \\: ${task.title}`)
      expect(textOf(event, 'description')).toBe(`${task.words}\n\n${task.caution}`)
      expect(textOf(event, 'uid')).toBe(`${task.task}.kitchen@shoalkeeper.invalid`)
      const day = DateTime.fromMillis(task.dueAtMs, { zone: 'Europe/Vienna' })
      expect([textOf(event, 'dtstart'), textOf(event, 'dtend')]).toEqual([
        day.toISODate(),
        day.plus({ days: 1 }).toISODate()
      ])
    })
  })

  it('gives to-dos where they are asked for', async () => {
    const { path } = await makeFeed()
    const { text } = await house.ask('GET', `${path}&as=todos`)
    expect(entriesOf(text, 'vevent')).toEqual([])
    expect(entriesOf(text, 'vtodo').map((entry) => textOf(entry, 'status'))).toContain('NEEDS-ACTION')
  })

  it('keeps its lines within 75 octets and ends each with CR LF, as RFC 5545 section 3.1 says', async () => {
    const { path } = await makeFeed()
    const { text } = await house.ask('GET', path)
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
    const lines = text.split('\r\n')
    expect(lines.some((line) => line.includes('\n'))).toBe(false)
    expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75)
    expect(text).not.toContain('\uFFFD')
  })

  it('moves a task under the same name and a higher number once it was done', async () => {
    const { path } = await makeFeed()
    const look = async () => {
      const events = entriesOf((await house.ask('GET', path)).text, 'vevent')
      const event = events.find((one) => textOf(one, 'uid').startsWith('seals-check'))
      if (event === undefined) throw new Error('missing')
      return {
        uid: textOf(event, 'uid'),
        sequence: Number(textOf(event, 'sequence')),
        day: textOf(event, 'dtstart')
      }
    }
    const before = await look()
    house.clock.nowMs += 5 * 86_400_000
    await house.ask('POST', '/api/tanks/kitchen/upkeep/seals-check', { cookie: keeper })
    const after = await look()
    expect(after.uid).toBe(before.uid)
    expect(after.sequence).toBeGreaterThan(before.sequence)
    expect(after.day > before.day).toBe(true)
  })

  it('has the day of the tank, not of the machine', () => {
    const dueAtMs = Date.parse('2026-11-24T23:30:00Z')
    const task = {
      task: 'seals-check',
      everyMs: 1,
      lastDoneMs: null,
      dueAtMs,
      isDue: true,
      title: 't',
      words: 'w',
      why: 'y',
      caution: 'c'
    } as const
    const day = (timeZone: string) =>
      textOf(
        entriesOf(
          upkeepCalendar({
            tankId: 'k',
            tankName: 'K',
            timeZone,
            tasks: [task],
            nowMs: dueAtMs,
            as: 'events'
          }),
          'vevent'
        )[0] ?? new ICAL.Component('vevent'),
        'dtstart'
      )
    expect([day('Europe/Vienna'), day('UTC'), day('America/New_York')]).toEqual([
      '2026-11-25',
      '2026-11-24',
      '2026-11-24'
    ])
  })
})

describe('the key of a calendar', () => {
  it('opens one feed of one tank until it is taken back', async () => {
    const feed = await makeFeed()
    const key = new URL(feed.path, 'http://x').searchParams.get('key') ?? ''
    expect(key.length).toBeGreaterThanOrEqual(43)
    expect((await house.ask('GET', feed.path)).status).toBe(200)
    for (const path of [
      '/api/tanks/kitchen/upkeep.ics',
      '/api/tanks/kitchen/upkeep.ics?key=guess',
      `/api/tanks/other/upkeep.ics?key=${key}`,
      `/api/tanks/nowhere/upkeep.ics?key=${key}`
    ])
      expect((await house.ask('GET', path)).body).toMatchObject({ status: 403, code: 'API_WRONG_CODE' })
    expect((await house.ask('GET', `/api/tanks/kitchen/upkeep?key=${key}`)).status).toBe(401)
    await house.ask('DELETE', `/api/feeds/${feed.id}`, { cookie: keeper })
    expect((await house.ask('GET', feed.path)).status).toBe(403)
  })

  it('is shown once and stored as a hash', async () => {
    const feed = await makeFeed()
    const key = new URL(feed.path, 'http://x').searchParams.get('key') ?? ''
    expect((await house.ask('GET', '/api/feeds', { cookie: keeper })).text).not.toContain(key)
    expect(JSON.stringify(await house.record.settings())).not.toContain(key)
  })
})
