import { expect, test } from 'vitest'
import { judgeStability } from '../../services/series/stability.ts'
import { stabilityLimits } from '../../services/tank/stability-limits.ts'
import { makeChance } from '../watch/seeded.ts'

const limits = stabilityLimits['ph-millivolts']
const every = (seconds: number, values: readonly number[]) =>
  values.map((value, at) => ({ atMs: at * seconds * 1000, value }))

test('it says why it still waits: too few, too short, drifting, noisy', () => {
  expect(judgeStability([], limits)).toMatchObject({ stable: false, because: 'too-few', value: null })
  expect(judgeStability(every(10, [1, 1, 1]), limits).because).toBe('too-few')
  expect(judgeStability(every(1, new Array(60).fill(1)), limits).because).toBe('too-short')
  const creeping = new Array(60).fill(0).map((_, at) => at * 0.05)
  expect(judgeStability(every(5, creeping), limits)).toMatchObject({
    stable: false,
    because: 'still-drifting'
  })
  const loose = new Array(60).fill(0).map((_, at) => (at % 2) * 4)
  expect(judgeStability(every(5, loose), limits)).toMatchObject({ stable: false, because: 'too-noisy' })
})

test('it tells what it saw when the reading is steady', () => {
  expect(judgeStability(every(10, new Array(30).fill(171.5)), limits)).toEqual({
    stable: true,
    because: 'steady',
    value: 171.5,
    count: 13,
    overMs: 120_000,
    range: 0,
    perMinute: 0
  })
})

test('a board that sends once a minute is heard over as many minutes as five readings take', () => {
  expect(judgeStability(every(60, [171, 171, 171, 171]), limits).because).toBe('too-few')
  expect(judgeStability(every(60, [171, 171, 171, 171, 171]), limits)).toMatchObject({
    stable: true,
    overMs: 240_000
  })
})

// A glass electrode moved from one buffer to another settles along an exponential; electrodes in use take some
// seconds to a minute (common practice, no source). 1.2 mV are 0.02 pH at 25 °C (Nernst, 59.16 mV a step).
test('of 500 seeded electrodes of every speed at least 495 are called stable within 1.2 mV of their end', () => {
  let near = 0
  let never = 0
  for (let seed = 1; seed <= 500; seed += 1) {
    const chance = makeChance(seed)
    const tauS = 5 + 55 * chance.even()
    const noiseMv = 0.05 + 0.2 * chance.even()
    const everyS = 1 + Math.floor(30 * chance.even())
    const points: { atMs: number; value: number }[] = []
    let found: number | null = null
    for (let second = 0; second <= 1200 && found === null; second += everyS) {
      points.push({ atMs: second * 1000, value: 170 * Math.exp(-second / tauS) + noiseMv * chance.normal() })
      const judged = judgeStability(points.slice(-150), limits)
      if (judged.stable) found = judged.value
    }
    if (found === null) never += 1
    else if (Math.abs(found) <= 1.2) near += 1
  }
  expect(never).toBe(0)
  expect(near).toBeGreaterThanOrEqual(495)
})
