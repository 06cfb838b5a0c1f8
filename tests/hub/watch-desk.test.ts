import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { alarmView } from '../../services/contract/alarm-view.ts'
import { nowView } from '../../services/contract/now-view.ts'
import type { LiveEvent } from '../../services/contract/series-view.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import type { ReadingToStore, TankRecord } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'
import { type Desk, hearOn, openDesk } from './desk-on-record.ts'

let dataDir = ''
let record: TankRecord
let nowMs = startMs
let told: LiveEvent[] = []

beforeEach(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'desk-'))
  record = await openRecord({ dataDir, commitWindowMs: 1 })
  nowMs = startMs
  told = []
  await record.addTank({ id: 'kitchen', profile: fishTank, atMs: startMs })
})
afterEach(async () => {
  await record.close()
  rmSync(dataDir, { recursive: true, force: true })
})

const open = () => openDesk({ record, clock: () => nowMs, tell: (event) => told.push(event) })

const reading = (quantity: Quantity, value: number, atMs = nowMs): ReadingToStore => ({
  tankId: 'kitchen',
  probe: quantity === 'ph' ? 'p1' : 't1',
  quantity,
  value,
  atMs,
  arrivedAtMs: nowMs,
  clock: 'device',
  flag: 1
})
const hear = (desk: Desk, batch: readonly ReadingToStore[]) => hearOn({ record, desk }, batch)
/** Lets minutes pass, each with its readings. */
async function live(desk: Desk, minutes: number, at: { tempC: number; pH: number }): Promise<void> {
  for (let minute = 0; minute < minutes; minute += 1) {
    nowMs += minuteMs
    await hear(desk, [reading('temperature', at.tempC), reading('ph', at.pH)])
    await desk.tick()
  }
}
const addTest = (ammonia: number, takenAtMs: number) =>
  record.addTest({
    tankId: 'kitchen',
    takenAtMs,
    results: [{ quantity: 'ammonia', value: ammonia, unit: 'mg/L' }],
    by: 'keeper',
    atMs: nowMs
  })

describe('the desk over a real record', () => {
  test('raises, tells and keeps an alarm; acknowledged stays so through a restart; then it clears', async () => {
    const desk = await open()
    await live(desk, 10, { tempC: 24.5, pH: 7.2 })
    expect(desk.now('kitchen')?.alarms).toEqual([])
    await live(desk, 50, { tempC: 22.6, pH: 7.2 })
    const raised = desk.now('kitchen')?.alarms[0]
    expect(raised).toMatchObject({ kind: 'water-cold', state: 'unacknowledged', priority: 'medium' })
    expect(told.filter((event) => event.event === 'alarm')).toHaveLength(1)
    const id = raised?.id ?? ''
    expect(await desk.act({ id, action: 'reset', by: 'Ada' })).toBe('wrong-state')
    expect(await desk.act({ id, action: 'acknowledge', by: 'Ada', note: 'seen it' })).toBe('done')
    expect(await desk.act({ id: 'nobody', action: 'acknowledge', by: 'Ada' })).toBe('unknown')
    expect((await record.events({ tankId: 'kitchen' })).map((event) => event.note)).toEqual([
      'Alarm, acknowledge: seen it'
    ])

    const again = await open()
    expect(again.now('kitchen')?.alarms[0]).toMatchObject({
      id,
      state: 'acknowledged',
      acknowledgedBy: 'Ada'
    })
    await live(again, 5, { tempC: 22.6, pH: 7.2 })
    expect(again.now('kitchen')?.alarms[0]).toMatchObject({ id, state: 'acknowledged' })
    await live(again, 120, { tempC: 24.5, pH: 7.2 })
    expect(again.now('kitchen')?.alarms).toEqual([])
    const [past] = await again.alarms({ tankId: 'kitchen' })
    expect(past).toMatchObject({ id, state: 'normal', acknowledgedBy: 'Ada' })
    expect(past?.changes.map((change) => change.to)).toEqual(['unacknowledged', 'acknowledged', 'normal'])
    expect(alarmView.safeParse(past).success).toBe(true)
  })

  test.each([false, true])(
    'goes on when a clock that ran two days ahead is set back; the watch started anew then: %s',
    async (isRestarted) => {
      const first = await open()
      await live(first, 5, { tempC: 24.5, pH: 7.2 })
      nowMs += 48 * hourMs
      await live(first, 5, { tempC: 24.5, pH: 7.2 })
      nowMs -= 48 * hourMs
      const desk = isRestarted ? await open() : first
      await live(desk, 1, { tempC: 24.5, pH: 7.2 })
      expect(desk.now('kitchen')?.readings.temperature).toMatchObject({ value: 24.5, ageMs: 0 })
      // What was heard before the clock ran ahead is known again; what it said of the future is not.
      expect(
        (await desk.history({ tankId: 'kitchen', fromMs: startMs, toMs: nowMs }))?.summary[0]?.count
      ).toBe(6)
      await live(desk, 15, { tempC: 15, pH: 7.2 })
      expect(desk.now('kitchen')?.alarms.map(({ kind }) => kind)).toContain('water-cold-danger')
    }
  )

  test('shows a present that the contract accepts, and says what nobody knows', async () => {
    const desk = await open()
    await live(desk, 5, { tempC: 24.5, pH: 7.2 })
    const unknown = desk.now('kitchen')
    expect(nowView.safeParse(unknown).success).toBe(true)
    expect(unknown?.derived.nh3MgL).toMatchObject({ value: null, reason: 'no-ammonia-test' })
    expect(unknown?.verdict).toMatchObject({ level: 'unknown', because: 'ammonia-no-ammonia-test' })
    expect(unknown?.next.step).toBe('test-ammonia-nitrite')
    await addTest(0, nowMs)
    await desk.entriesChanged({ tankId: 'kitchen', fromMs: nowMs })
    const known = desk.now('kitchen')
    expect(known?.derived.nh3MgL).toMatchObject({ value: 0, reason: 'from-test' })
    expect(known?.verdict.level).toBe('well')
    expect(known?.readings.temperature).toMatchObject({ value: 24.5, stale: false, everyMs: minuteMs })
    expect(desk.now('nowhere')).toBeNull()
  })

  test('a test entered for this morning derives the past anew and raises its revision', async () => {
    const desk = await open()
    await live(desk, 120, { tempC: 24.5, pH: 8 })
    const ask = { tankId: 'kitchen', quantity: 'nh3' as const, fromMs: startMs, toMs: nowMs, points: 500 }
    expect((await record.series(ask)).points).toEqual([])
    await addTest(1, startMs + 60 * minuteMs)
    await desk.entriesChanged({ tankId: 'kitchen', fromMs: startMs + 60 * minuteMs })
    const first = await record.series(ask)
    expect(first.points.length).toBe(61)
    // Source: Emerson et al. 1975 at 24.5 °C, pH 8: 5.19 % of 1 mg N/L, as NH3.
    expect(first.points[0]?.mean).toBeCloseTo(0.0519 * 1.21589, 3)
    const revised = told.findLast((event) => event.event === 'revised')
    expect(revised?.data).toMatchObject({ tankId: 'kitchen', revision: first.revision })

    await addTest(2, startMs + 90 * minuteMs)
    await desk.entriesChanged({ tankId: 'kitchen', fromMs: startMs + 90 * minuteMs })
    const second = await record.series(ask)
    expect(second.revision).toBeGreaterThan(first.revision)
    // Now the straight line between both tests holds: at half the way 1.5 times the first.
    const half = second.points.find((point) => point.atMs === startMs + 75 * minuteMs)
    expect((half?.mean ?? 0) / (first.points[0]?.mean ?? 1)).toBeCloseTo(1.5, 1)
    // Live minutes go on from where the revision ends.
    await live(desk, 3, { tempC: 24.5, pH: 8 })
    expect((await record.series({ ...ask, toMs: nowMs })).points.length).toBe(64)
  })

  test('readings handed over late complete the derived past', async () => {
    const desk = await open()
    await addTest(1, startMs)
    await desk.entriesChanged({ tankId: 'kitchen', fromMs: startMs })
    for (let minute = 0; minute < 60; minute += 1) {
      nowMs += minuteMs
      await hear(desk, [reading('temperature', 24.5)])
      await desk.tick()
    }
    const ask = { tankId: 'kitchen', quantity: 'nh3' as const, fromMs: startMs, toMs: nowMs, points: 500 }
    expect((await record.series(ask)).points).toEqual([])
    const late = Array.from({ length: 60 }, (_, minute) => reading('ph', 8, startMs + minute * minuteMs))
    await hear(desk, late)
    await desk.settled()
    expect((await record.series(ask)).points.length).toBeGreaterThan(50)
    expect(desk.now('kitchen')?.alarms.filter((alarm) => alarm.kind === 'ammonia-unsafe')).toEqual([])
  })

  test('a value of unknown age is shown as such and never judged', async () => {
    const desk = await open()
    desk.lastKnown([reading('temperature', 12)])
    nowMs += hourMs
    await desk.tick()
    expect(desk.now('kitchen')?.readings.temperature).toMatchObject({
      value: 12,
      lastKnown: true,
      stale: true
    })
    expect(desk.now('kitchen')?.alarms).toEqual([])
  })

  test('a lost board with all its probes is a power cut; one that says one thing and leaves is none', async () => {
    const desk = await open()
    const say = async (clientId: string): Promise<void> => {
      await hear(desk, [{ ...reading('temperature', 24.5), clientId }])
      await desk.tick()
    }
    for (let minute = 0; minute < 10; minute += 1) {
      nowMs += minuteMs
      await say(`once-${minute}`)
      desk.connectionChanged({ clientId: `once-${minute}`, connected: false, atMs: nowMs })
    }
    for (let minute = 0; minute < 10; minute += 1) {
      nowMs += minuteMs
      await say('board')
    }
    desk.connectionChanged({ clientId: 'board', connected: false, atMs: nowMs })
    for (let minute = 0; minute < 4; minute += 1) {
      nowMs += minuteMs
      await desk.tick()
    }
    // The probe's own silence is explained by the cut and keeps quiet.
    const ringing = desk.now('kitchen')?.alarms.filter(({ state }) => state === 'unacknowledged') ?? []
    expect(ringing.map(({ kind, priority }) => `${kind} ${priority}`)).toEqual(['power-cut critical'])
  })

  test('after the watch itself was off for hours nobody is called silent at once', async () => {
    const first = await open()
    await live(first, 10, { tempC: 24.5, pH: 7.2 })
    nowMs += 5 * hourMs
    const desk = await open()
    await desk.tick()
    expect(desk.now('kitchen')?.alarms).toEqual([])
    for (let minute = 0; minute < 7; minute += 1) {
      nowMs += minuteMs
      await desk.tick()
    }
    expect(desk.now('kitchen')?.alarms.some((alarm) => alarm.kind === 'power-cut')).toBe(true)
  })

  test('tells its health: when it last judged', async () => {
    const desk = await open()
    expect(desk.health()).toEqual({ lastTickMs: null, lastFailure: null })
    await desk.tick()
    expect(desk.health()).toEqual({ lastTickMs: nowMs, lastFailure: null })
  })
})

test('a record that fails while an imported past is worked out is told by the health and ends nothing', async () => {
  let isBroken = false
  const whole = record
  type Call = (...asked: unknown[]) => unknown
  record = Object.fromEntries(
    Object.entries(whole).map(([name, call]) => [
      name,
      (...asked: unknown[]) =>
        isBroken ? Promise.reject(new Error('the disk is gone')) : (call as Call)(...asked)
    ])
  ) as unknown as TankRecord
  const desk = await open()
  await desk.readingsImported({ tankId: 'kitchen', fromMs: nowMs - 60 * hourMs })
  isBroken = true
  await desk.settled()
  // What was rejected and caught by nobody would end this very process with the next turn of the loop.
  await new Promise((done) => setTimeout(done, 20))
  await desk.settled()
  expect(desk.health().lastFailure).toBe('the disk is gone')
  isBroken = false
  await desk.tick()
  expect(desk.health()).toEqual({ lastTickMs: nowMs, lastFailure: null })
  record = whole
})
