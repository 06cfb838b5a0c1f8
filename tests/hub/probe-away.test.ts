import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { LiveEvent } from '../../services/contract/series-view.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { ReadingToStore, TankRecord } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'
import { type Desk, hearOn, openDesk } from './desk-on-record.ts'

let dataDir = ''
let record: TankRecord
let nowMs = startMs
const clock = () => nowMs

beforeEach(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'away-'))
  record = await openRecord({ dataDir, commitWindowMs: 1 })
  nowMs = startMs
  await record.addTank({ id: 'kitchen', profile: fishTank, atMs: startMs })
})
afterEach(async () => {
  await record.close()
  rmSync(dataDir, { recursive: true, force: true })
})

/** Stops the watch and opens it anew from what is on disk. */
async function restart(desk: Desk): Promise<Desk> {
  await desk.settled()
  await record.close()
  record = await openRecord({ dataDir, commitWindowMs: 1 })
  return openDesk({ record, clock })
}

const tempC = { t1: 24.5, t2: 24.8, t3: 24.2 } as const
type Name = keyof typeof tempC

const reading = (probe: Name): ReadingToStore => ({
  tankId: 'kitchen',
  probe,
  quantity: 'temperature',
  // No real sensor says the same for half a day.
  value: tempC[probe] + 0.02 * Math.sin(nowMs / (7 * minuteMs)),
  atMs: nowMs,
  arrivedAtMs: nowMs,
  clock: 'device',
  flag: 1
})
async function live(desk: Desk, minutes: number, heard: readonly Name[]): Promise<void> {
  for (let minute = 0; minute < minutes; minute += 1) {
    nowMs += minuteMs
    await hearOn({ record, desk }, heard.map(reading))
    await desk.tick()
  }
}
const probeOf = async (name: string) => {
  const found = (await record.probes('kitchen')).find((one) => one.name === name)
  if (found === undefined) throw new Error(`there is a probe ${name}`)
  return found
}
async function place(desk: Desk, name: string, inTank: boolean): Promise<void> {
  const { id } = await probeOf(name)
  await record.placeProbe({ probeId: id, inTank, by: 'Ada', atMs: nowMs })
  await desk.probesChanged({ tankId: 'kitchen', fromMs: nowMs })
}
const alarmsOf = async (desk: Desk) =>
  (await desk.alarms({ tankId: 'kitchen' })).map(({ kind, subject, state }) => `${kind} ${subject} ${state}`)
const wall = (desk: Desk) => desk.now('kitchen')

describe('a probe that is taken out of the tank', () => {
  test('rings no more, also after a restart; the next one leads; what it said stays', async () => {
    let desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await live(desk, 10, ['t2'])
    expect(await alarmsOf(desk)).toEqual(['probe-silent t1 unacknowledged'])
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't1' })

    await place(desk, 't1', false)
    expect(await alarmsOf(desk)).toEqual(['probe-silent t1 out-of-service'])
    expect(wall(desk)?.alarms).toEqual([])
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't2' })
    expect((await probeOf('t1')).quantities[0]?.leading).toBe(false)
    expect((await probeOf('t2')).quantities[0]?.leading).toBe(true)

    desk = await restart(desk)
    await live(desk, 30, ['t2'])
    expect(await alarmsOf(desk)).toEqual(['probe-silent t1 out-of-service'])
    expect((await probeOf('t1')).outSinceMs).toBe(startMs + 30 * minuteMs)
    const past = await record.readings({ tankId: 'kitchen', probe: 't1', fromMs: startMs, toMs: nowMs })
    expect(past).toHaveLength(20)
    // One probe is left: its silence is no power cut, and nothing waits for the one that is out.
    await live(desk, 6, [])
    expect((await alarmsOf(desk)).toSorted()).toEqual([
      'probe-silent t1 out-of-service',
      'probe-silent t2 unacknowledged'
    ])
  })

  test('is in again with its first good reading, is missed anew, and takes no lead away', async () => {
    let desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await place(desk, 't1', false)
    // Its board may still be talking while somebody unplugs it.
    await live(desk, 4, ['t1', 't2'])
    expect((await probeOf('t1')).outSinceMs).toBe(startMs + 20 * minuteMs)
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't2' })
    await live(desk, 60, ['t2'])
    desk = await restart(desk)
    await live(desk, 5, ['t1', 't2'])
    expect((await probeOf('t1')).outSinceMs).toBeUndefined()
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't2' })
    await live(desk, 10, ['t2'])
    expect(await alarmsOf(desk)).toEqual(['probe-silent t1 unacknowledged'])
    const [notes] = await record.probeNotes('kitchen')
    expect(notes?.away).toEqual([
      { fromMs: startMs + 20 * minuteMs, toMs: startMs + 85 * minuteMs, by: 'Ada' }
    ])
  })

  test('put back by hand, its alarm is judged anew', async () => {
    const desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await live(desk, 10, ['t2'])
    await place(desk, 't1', false)
    await live(desk, 10, ['t2'])
    await place(desk, 't1', true)
    await live(desk, 2, ['t2'])
    const [now, before] = await alarmsOf(desk)
    expect([now, before].toSorted()).toEqual(['probe-silent t1 normal', 'probe-silent t1 unacknowledged'])
  })

  test('the only one of its quantity: the water has no temperature, and a new probe leads', async () => {
    const told: LiveEvent[] = []
    const desk = await openDesk({ record, clock, tell: (event) => told.push(event) })
    const readingsTold = () => told.filter(({ event }) => event === 'reading').length
    await live(desk, 20, ['t1'])
    expect(readingsTold()).toBe(20)
    await place(desk, 't1', false)
    expect(wall(desk)?.readings.temperature).toBeUndefined()
    // Its board still talks: that reaches no wall.
    await live(desk, 4, ['t1'])
    expect(readingsTold()).toBe(20)
    expect(wall(desk)?.readings.temperature).toBeUndefined()
    await live(desk, 20, ['t3'])
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't3' })
    expect((await probeOf('t3')).quantities[0]?.leading).toBe(true)
    await place(desk, 't1', true)
    expect((await probeOf('t3')).quantities[0]?.leading).toBe(true)
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 't3' })
    expect(await alarmsOf(desk)).toEqual([])
  })
})

describe('a probe that is renamed', () => {
  const rename = async (desk: Desk, from: string, to: string): Promise<void> => {
    await record.renameProbe({ probeId: (await probeOf(from)).id, name: to })
    await desk.probesChanged({ tankId: 'kitchen', fromMs: nowMs, renamed: { from, to } })
  }
  test('goes on under its new name: its board keeps the old one, and nothing is missed', async () => {
    let desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await rename(desk, 't1', 'surface')
    await live(desk, 20, ['t1', 't2'])
    expect(wall(desk)?.readings.temperature).toMatchObject({ probe: 'surface' })
    desk = await restart(desk)
    await live(desk, 20, ['t1', 't2'])
    expect(await alarmsOf(desk)).toEqual([])
    expect((await record.probes('kitchen')).map(({ name }) => name)).toEqual(['surface', 't2'])
  })
  test.each([false, true])('takes its alarm with it; started anew: %s', async (isRestarted) => {
    let desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await live(desk, 10, ['t2'])
    await rename(desk, 't1', 'surface')
    if (isRestarted) desk = await restart(desk)
    await live(desk, 2, ['t2'])
    expect(await alarmsOf(desk)).toEqual(['probe-silent surface unacknowledged'])
    await live(desk, 10, ['t1', 't2'])
    expect(await alarmsOf(desk)).toEqual(['probe-silent surface returned-unacknowledged'])
  })
  test('of before, whose alarm was left under the old name, lets it go out of service', async () => {
    let desk = await openDesk({ record, clock })
    await live(desk, 20, ['t1', 't2'])
    await live(desk, 10, ['t2'])
    const [slot] = await record.alarmSlots('kitchen')
    if (slot === undefined) throw new Error('an alarm stands')
    await record.saveAlarms({ slots: [{ ...slot, subject: 'old', activationId: 'left' }], changes: [] })
    desk = await restart(desk)
    await live(desk, 2, ['t2'])
    const left = (await record.alarmSlots('kitchen')).find(({ subject }) => subject === 'old')
    expect(left?.state).toBe('out-of-service')
  })
})

test('hours later the one that is out is still not missed', async () => {
  const desk = await openDesk({ record, clock })
  await live(desk, 20, ['t1', 't2'])
  await place(desk, 't1', false)
  nowMs += 5 * hourMs
  await live(desk, 10, ['t2'])
  expect(await alarmsOf(desk)).toEqual([])
})

test('one that is out stays out of what is derived anew of the time since', async () => {
  await record.addTest({
    tankId: 'kitchen',
    takenAtMs: nowMs,
    results: [
      { quantity: 'ammonia', value: 1, unit: 'mg/L' },
      { quantity: 'ph', value: 7.8, unit: 'pH' }
    ],
    by: 'Ada',
    atMs: nowMs
  })
  const desk = await openDesk({ record, clock })
  await live(desk, 30, ['t1'])
  const outMs = nowMs
  await place(desk, 't1', false)
  await live(desk, 10, [])
  const nh3 = async () => {
    const ask = {
      tankId: 'kitchen',
      quantity: 'nh3',
      fromMs: outMs + minuteMs,
      toMs: nowMs,
      points: 100
    } as const
    return (await record.series(ask)).points.map(({ mean }) => mean)
  }
  const asItWent = await nh3()
  expect(asItWent.filter((mean) => mean !== null)).toHaveLength(10)
  await desk.entriesChanged({ tankId: 'kitchen', fromMs: startMs })
  await desk.settled()
  expect(await nh3()).toEqual(asItWent)
})
