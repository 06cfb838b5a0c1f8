import { beforeEach, describe, expect, test } from 'vitest'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'
import { hearOn, openDesk, recordOfTest } from './desk-on-record.ts'

const recordNow = recordOfTest()
let nowMs = startMs
beforeEach(() => {
  nowMs = startMs
})

async function deskOf(tankId: string) {
  const record = recordNow()
  await record.addTank({ id: tankId, profile: fishTank, atMs: startMs - 40 * hourMs })
  const desk = await openDesk({ record, clock: () => nowMs, tankId })
  const hear = async (tempC: number, pH: number): Promise<void> => {
    const word = (quantity: 'temperature' | 'ph', value: number): ReadingToStore => ({
      ...{ tankId, probe: quantity === 'ph' ? 'p1' : 't1', quantity, value, atMs: nowMs },
      ...{ arrivedAtMs: nowMs, clock: 'device', flag: 1 }
    })
    await hearOn({ record, desk }, [word('temperature', tempC), word('ph', pH)])
  }
  const test = async (ammonia: number, takenAtMs: number): Promise<void> => {
    await record.addTest({
      tankId,
      takenAtMs,
      results: [{ quantity: 'ammonia', value: ammonia, unit: 'mg/L' }],
      by: 'keeper',
      atMs: nowMs
    })
    await desk.entriesChanged({ tankId, fromMs: takenAtMs })
    await desk.settled()
  }
  const nh3 = async () =>
    (await record.series({ tankId, quantity: 'nh3', fromMs: startMs, toMs: nowMs, points: 5000 })).points.map(
      ({ atMs, mean }) => ({ minute: (atMs - startMs) / minuteMs, mean })
    )
  return { desk, hear, test, nh3 }
}

describe('what is derived anew after a test that was entered late', () => {
  test('is what it would have been with the test in time, through hours in which no probe spoke', async () => {
    const inTime = await deskOf('in-time')
    const late = await deskOf('late')
    const testMin = 61
    const spoke = (minute: number): boolean =>
      minute <= 60 || (minute > 460 && minute <= 480) || minute > 1980
    for (let minute = 1; minute <= 1990; minute += 1) {
      nowMs = startMs + minute * minuteMs
      for (const one of [inTime, late]) {
        if (spoke(minute)) await one.hear(24.5, 7.8 + 0.1 * Math.sin(minute / 50))
        if (minute === testMin && one === inTime) await one.test(1, nowMs)
        await one.desk.tick()
      }
    }
    await late.test(1, startMs + testMin * minuteMs)
    const expected = await inTime.nh3()
    // The last word is of minute 480: it serves for a day and not a minute longer.
    expect(expected.map(({ minute }) => minute)).toEqual([
      ...Array.from({ length: 480 + 1440 - testMin + 1 }, (_, at) => testMin + at),
      ...Array.from({ length: 10 }, (_, at) => 1981 + at)
    ])
    expect(await late.nh3()).toEqual(expected)
  })
})
