import { expect, test } from 'vitest'
import { makeChannels } from '../../services/hub/channels.ts'
import { makeLateMinutes } from '../../services/hub/late-minutes.ts'
import type { Reading } from '../../services/tank/reading.ts'

const minuteMs = 60_000
const startMs = 1_790_000_000_000 - (1_790_000_000_000 % minuteMs)

/** What is waited, minute by minute, where each word of a minute comes so many minutes after it. */
function behindOf(latenessOf: (minute: number) => number, minutes: number): readonly number[] {
  const channels = makeChannels()
  const late = makeLateMinutes()
  const at = (minute: number): number => startMs + minute * minuteMs
  const reading = (minute: number, arrivedMinute: number): Reading => ({
    ...{
      tankId: 'kitchen',
      probe: 't1',
      quantity: 'temperature',
      value: 25 + (minute % 3) / 10,
      unit: 'Cel'
    },
    ...{ atMs: at(minute) - 20_000, arrivedAtMs: at(arrivedMinute) - 10_000, clock: 'device', flag: 1 }
  })
  return Array.from({ length: minutes }, (_, now) => {
    for (let minute = 0; minute <= now; minute += 1)
      if (minute + latenessOf(minute) === now) channels.add(reading(minute, now))
    return late.behind(channels.voice('temperature', at(now)), at(now))
  })
}

test('words that come in time, seldom or a moment late are not waited for', () => {
  expect(new Set(behindOf(() => 0, 40))).toEqual(new Set([0]))
  expect(new Set(behindOf((minute) => (minute % 5 === 0 ? 0 : 1000), 40))).toEqual(new Set([0]))
  expect(new Set(behindOf((minute) => minute % 2, 40))).toEqual(new Set([0]))
})
test('words that come late are waited for by as much, for half an hour after the last of them', () => {
  const behind = behindOf((minute) => (minute === 10 ? 3 : 0), 60)
  expect(behind.slice(0, 13)).toEqual(new Array(13).fill(0))
  expect(behind.slice(13, 43)).toEqual(new Array(30).fill(3))
  expect(behind.slice(43)).toEqual(new Array(17).fill(0))
})
test('a probe that is heard for the first time, and another one, tell nothing of lateness', () => {
  const late = makeLateMinutes()
  expect(late.behind(null, startMs)).toBe(0)
  const words = makeChannels()
  for (let minute = 0; minute < 5; minute += 1)
    words.add({
      ...{ tankId: 'kitchen', probe: 't1', quantity: 'temperature', value: 25, unit: 'Cel' },
      ...{
        atMs: startMs + minute * minuteMs,
        arrivedAtMs: startMs + minute * minuteMs,
        clock: 'device',
        flag: 1
      }
    })
  expect(late.behind(words.voice('temperature', startMs + 4 * minuteMs), startMs + 4 * minuteMs)).toBe(0)
})
test('where late words are a habit the latest of half a day tells how long they are waited for', () => {
  const behind = behindOf((minute) => (minute === 20 ? 4 : minute % 3 === 0 ? 2 : 0), 120)
  expect(new Set(behind.slice(30))).toEqual(new Set([4]))
  const alone = behindOf((minute) => (minute === 20 ? 4 : minute === 70 ? 2 : 0), 90)
  expect(alone.slice(60, 72)).toEqual(new Array(12).fill(0))
  expect(new Set(alone.slice(72))).toEqual(new Set([2]))
})
