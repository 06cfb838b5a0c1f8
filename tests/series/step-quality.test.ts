import fc from 'fast-check'
import { expect, test } from 'vitest'
import { flagFlatLines } from '../../services/series/flat-line.ts'
import { flagSpikes } from '../../services/series/spike.ts'
import {
  freshQuality,
  type QualityAnswer,
  type QualityContext,
  type QualityState,
  stepQuality,
  type TestLimits
} from '../../services/series/step-quality.ts'
import { qualityLimits } from '../../services/tank/quality-limits.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const { temperature, ph } = qualityLimits

function run(
  readings: readonly Readonly<{ atMs: number; value: number | null }>[],
  limits: TestLimits,
  context: (atMs: number) => QualityContext = () => ({})
): readonly QualityAnswer[] {
  let state: QualityState = freshQuality
  return readings.map((reading) => {
    const answer = stepQuality(state, reading, limits, context(reading.atMs))
    state = answer.next
    return answer
  })
}

const everyMinute = (values: readonly (number | null)[]) =>
  values.map((value, at) => ({ atMs: at * minuteMs, value }))

/** The flag of each reading after its successor has been heard. */
const finalFlags = (answers: readonly QualityAnswer[]) =>
  answers.map((answer, at) => answers[at + 1]?.previousFlag?.flag ?? answer.flag)

test.each([
  ['the power-on value of a DS18B20', 85, 'sensor-fault-code'],
  ['its power-on value sent as 185 degF', (185 - 32) * (5 / 9), 'sensor-fault-code'],
  ['the answer of a driver that has lost its sensor', -127, 'sensor-fault-code'],
  ['steam', 98, 'gross-range']
])('%s fails, and the readings beside it are not blamed', (_name, value, why) => {
  const answers = run(everyMinute([24.5, 24.5, value, 24.5, 24.5]), temperature)
  expect(finalFlags(answers)).toEqual([1, 1, 4, 1, 1])
  expect(answers[2]?.why).toBe(why)
})

test('a wild value fails only once the next reading has come, and its neighbours pass', () => {
  const answers = run(everyMinute([24.5, 24.5, 30, 24.5, 24.4]), temperature)
  expect(answers.map((answer) => answer.flag)).toEqual([1, 1, 1, 1, 1])
  expect(answers[3]?.previousFlag).toEqual({ atMs: 2 * minuteMs, flag: 4, why: 'spike' })
  expect(finalFlags(answers)).toEqual([1, 1, 4, 1, 1])
})

test('a step that stays is no spike, and readings far apart say nothing about each other', () => {
  expect(finalFlags(run(everyMinute([24.5, 24.5, 23, 23, 23]), temperature))).toEqual([1, 1, 1, 1, 1])
  const apart = [24.5, 27, 24.5].map((value, at) => ({ atMs: at * hourMs, value }))
  expect(finalFlags(run(apart, { ...temperature, rate: undefined }))).toEqual([1, 1, 1])
})

test('equal readings mean nothing for hours: five of them pass, and so do eleven hours', () => {
  const answers = run(everyMinute(new Array(11 * 60).fill(24.5)), temperature)
  expect(answers.every((answer) => answer.flag === 1)).toBe(true)
})

test.each([
  ['temperature', temperature, 24.5, 12, 24],
  ['pH', ph, 7.12, 3, 12]
])('a %s that stands still is suspect, and later fails', (_name, limits, value, suspectH, failH) => {
  const answers = run(everyMinute(new Array(failH * 60 + 1).fill(value)), limits)
  const first = (flag: number) => answers.findIndex((answer) => answer.flag === flag) * minuteMs
  expect(first(3)).toBe(suspectH * hourMs)
  expect(first(4)).toBe(failH * hourMs)
  expect(answers.at(-1)?.why).toBe('flat-line')
})

test('where the heater must have moved the water, two hours without movement are enough', () => {
  const dueFromMs = 3 * hourMs
  const answers = run(everyMinute(new Array(6 * 60).fill(24.5)), temperature, (atMs) => ({
    movementDueSinceMs: atMs >= dueFromMs ? dueFromMs : null
  }))
  expect(answers.findIndex((answer) => answer.flag === 4) * minuteMs).toBe(dueFromMs + 2 * hourMs)
})

test('a silence breaks a flat run: nothing is known about it', () => {
  const before = everyMinute(new Array(10 * 60).fill(24.5))
  const after = before.map((reading) => ({ ...reading, atMs: reading.atMs + 15 * hourMs }))
  expect(run([...before, ...after], temperature).every((answer) => answer.flag === 1)).toBe(true)
})

test('one step of the sensor within five seconds is no rate of change', () => {
  const readings = new Array(240)
    .fill(0)
    .map((_, at) => ({ atMs: at * 5000, value: at < 120 ? 24.5 : 24.5625 }))
  expect(run(readings, temperature).every((answer) => answer.tests['rate-of-change'] !== 3)).toBe(true)
})

test('water that falls by six degrees an hour is suspect, and never fails for it', () => {
  const answers = run(everyMinute(new Array(60).fill(0).map((_, at) => 25 - at * 0.1)), temperature)
  expect(answers.at(-1)?.flag).toBe(3)
  expect(answers.at(-1)?.why).toBe('rate-of-change')
  expect(answers.some((answer) => answer.flag === 4)).toBe(false)
})

test('a probe that sends every ten minutes has its rate judged as well', () => {
  const readings = new Array(12).fill(0).map((_, at) => ({ atMs: at * 10 * minuteMs, value: 28 - at }))
  expect(run(readings, temperature).at(-1)?.why).toBe('rate-of-change')
})

test('the learned band, the attenuated signal and the neighbour are answered but never reach the flag', () => {
  const calm = new Array(13 * 60).fill(0).map((_, at) => 7.1 + (at % 2) * 0.01)
  const answers = run(everyMinute([...calm, 7.3]), { ...ph, flatLine: undefined, rate: undefined }, () => ({
    band: [7.15, 7.2],
    neighbourPerHour: 0
  }))
  const quiet = answers[13 * 60 - 1]
  expect(quiet?.tests).toMatchObject({ climatology: 3, 'attenuated-signal': 3, neighbour: 1 })
  expect(quiet?.flag).toBe(1)
  const falling = run(everyMinute(new Array(30).fill(0).map((_, at) => 7 - at * 0.01)), ph, () => ({
    neighbourPerHour: 0.02
  })).at(-1)
  expect(falling?.tests.neighbour).toBe(3)
})

test('a late reading gets the tests it can get, and changes nothing that is remembered', () => {
  const answers = run(everyMinute([24.5, 24.5, 24.5]), temperature)
  const state = answers.at(-1)?.next ?? freshQuality
  const late = stepQuality(state, { atMs: 30_000, value: 85 }, temperature)
  expect(late.flag).toBe(4)
  expect(late.next).toBe(state)
  expect(stepQuality(state, { atMs: 30_000, value: 24 }, temperature).flag).toBe(1)
})

test('what is remembered survives being written down: the flags go on as if nothing had happened', () => {
  const values = fc.array(fc.oneof(fc.integer({ min: 390, max: 410 }), fc.constantFrom(1360, null)), {
    minLength: 2,
    maxLength: 60
  })
  fc.assert(
    fc.property(values, fc.nat(), (codes, cut) => {
      const readings = everyMinute(codes.map((code) => (code === null ? null : code / 16)))
      const at = cut % readings.length
      const whole = run(readings, temperature)
      let state: QualityState = JSON.parse(
        JSON.stringify(at === 0 ? freshQuality : whole[at - 1]?.next)
      ) as QualityState
      for (const [offset, reading] of readings.slice(at).entries()) {
        const answer = stepQuality(state, reading, temperature)
        state = answer.next
        expect(answer).toEqual(whole[at + offset])
      }
    })
  )
})

test('live spike flags are those of the published form, once the next reading is there', () => {
  const limits: TestLimits = { fail: [0, 100], spike: { suspect: 0.5, fail: 2, form: 'differential' } }
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 800 }), { minLength: 3, maxLength: 80 }), (codes) => {
      const values = codes.map((code) => code / 8)
      const published = flagSpikes(values, { suspect: 0.5, fail: 2, form: 'differential' })
      const live = finalFlags(run(everyMinute(values), limits))
      expect(live).toEqual(published.map((flag) => (flag === 2 ? 1 : flag)))
    })
  )
})

test('live flat-line flags follow the published form, late by at most the width of one block', () => {
  const flatLine = { tolerance: 0.1, suspectMs: 30 * minuteMs, failMs: hourMs, mostGapMs: hourMs }
  const part = fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 1, max: 90 }))
  fc.assert(
    fc.property(fc.array(part, { minLength: 1, maxLength: 6 }), (parts) => {
      const values = parts.flatMap(([level, count]) => new Array<number>(count).fill(level))
      const readings = everyMinute(values)
      const series = { timesMs: readings.map((reading) => reading.atMs), values }
      const exact = flagFlatLines(series, flatLine)
      const late = flagFlatLines(series, {
        ...flatLine,
        suspectMs: flatLine.suspectMs + 5 * minuteMs,
        failMs: flatLine.failMs + 5 * minuteMs
      })
      const live = run(readings, { fail: [-10, 10], flatLine }).map((answer) => answer.flag)
      const wrong = live.filter((flag, at) => flag > (exact[at] ?? 0) || flag < (late[at] ?? 9))
      expect(wrong).toEqual([])
    })
  )
})
