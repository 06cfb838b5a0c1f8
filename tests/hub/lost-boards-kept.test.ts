import { beforeEach, expect, test } from 'vitest'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'
import { type Desk, hearOn, openDesk, recordOfTest } from './desk-on-record.ts'

const record = recordOfTest()
let nowMs = startMs
beforeEach(async () => {
  nowMs = startMs
  await record().addTank({ id: 'kitchen', profile: fishTank, atMs: startMs - 40 * hourMs })
})

const open = () => openDesk({ record: record(), clock: () => nowMs })
const probes = [
  { probe: 't1', quantity: 'temperature', clientId: 'lid', value: 24.5 },
  { probe: 'p1', quantity: 'ph', clientId: 'lid', value: 7 },
  { probe: 'r1', quantity: 'room-temperature', clientId: 'shelf', value: 21 }
] as const

/** A minute in which the boards named are heard. */
async function liveMinute(desk: Desk, boards: readonly string[]): Promise<void> {
  nowMs += minuteMs
  const words = probes
    .filter(({ clientId }) => boards.includes(clientId))
    .map(
      ({ value, ...of }): ReadingToStore => ({
        ...of,
        ...{ tankId: 'kitchen', atMs: nowMs, arrivedAtMs: nowMs, clock: 'device', flag: 1 },
        value: value + 0.02 * Math.sin(nowMs / hourMs)
      })
    )
  await hearOn({ record: record(), desk }, words)
  await desk.tick()
  await desk.settled()
}

test('a board that was lost just before a restart is one alarm after it, and none once it is back', async () => {
  let desk = await open()
  for (let minute = 0; minute < 30; minute += 1) await liveMinute(desk, ['lid', 'shelf'])
  desk.connectionChanged({ clientId: 'lid', connected: false, atMs: nowMs })
  await desk.settled()
  desk = await open()
  for (let minute = 0; minute < 6; minute += 1) await liveMinute(desk, ['shelf'])
  const ringing = (await desk.alarms({})).filter(({ state }) => state === 'unacknowledged')
  expect(ringing).toMatchObject([
    { kind: 'power-cut', finding: { because: 'one-board-lost', facts: { probes: 't1, p1' } } }
  ])
  desk.connectionChanged({ clientId: 'lid', connected: true, atMs: nowMs })
  await desk.settled()
  for (let minute = 0; minute < 10; minute += 1) await liveMinute(desk, ['lid', 'shelf'])
  expect((await desk.alarms({ state: 'unacknowledged' })).map(({ kind }) => kind)).toEqual([])
  desk = await open()
  for (let minute = 0; minute < 10; minute += 1) await liveMinute(desk, ['shelf'])
  // This time nobody told that its connection was lost: each probe is missed by itself.
  const missed = (await desk.alarms({})).filter(({ state }) => state === 'unacknowledged')
  expect(missed.map(({ kind, subject }) => `${kind} ${subject}`).sort()).toEqual([
    'probe-silent p1',
    'probe-silent t1'
  ])
})
