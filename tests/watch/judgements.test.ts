import { describe, expect, test } from 'vitest'
import { temperatureBand } from '../../services/tank/bands.ts'
import { judgeAmmoniaUnsafe } from '../../services/watch/ammonia-unsafe.ts'
import type { Hearing } from '../../services/watch/hearing.ts'
import type { Judged } from '../../services/watch/judged.ts'
import { type BoardLink, judgePowerCut } from '../../services/watch/power-cut.ts'
import { judgeProbeSilent } from '../../services/watch/probe-silent.ts'
import { judgeWaterCold } from '../../services/watch/water-cold.ts'
import { isOnTheMove, judgeWaterColdDanger } from '../../services/watch/water-cold-danger.ts'
import { judgeWaterWarm } from '../../services/watch/water-warm.ts'
import { judgeWaterWarmDanger } from '../../services/watch/water-warm-danger.ts'

const why = (judged: Judged): string =>
  judged === null ? 'nothing' : judged === 'cannot-tell' ? judged : judged.because

describe('temperature limits', () => {
  // Cherry barbs: band 23 to 27, danger below 20 and above 30.
  const band = temperatureBand({ livestock: [{ speciesId: 'puntius-titteya', count: 6 }] })
  const cases = [
    { judge: judgeWaterCold, tempC: 23, stood: false, found: 'nothing' },
    { judge: judgeWaterCold, tempC: 22.99, stood: false, found: 'below-band' },
    { judge: judgeWaterCold, tempC: 23.2, stood: true, found: 'below-band' },
    { judge: judgeWaterCold, tempC: 23.26, stood: true, found: 'nothing' },
    { judge: judgeWaterCold, tempC: null, stood: true, found: 'cannot-tell' },
    { judge: judgeWaterColdDanger, tempC: 20.3, stood: false, found: 'nothing' },
    { judge: judgeWaterColdDanger, tempC: 19.9, stood: false, found: 'below-danger-limit' },
    { judge: judgeWaterColdDanger, tempC: 20.4, stood: true, found: 'below-danger-limit' },
    { judge: judgeWaterWarm, tempC: 27.01, stood: false, found: 'above-band' },
    { judge: judgeWaterWarm, tempC: 26.8, stood: true, found: 'above-band' },
    { judge: judgeWaterWarmDanger, tempC: 30.01, stood: false, found: 'above-danger-limit' },
    { judge: judgeWaterWarmDanger, tempC: 29.4, stood: true, found: 'nothing' }
  ]
  test.each(cases)('$judge.name at $tempC (stood: $stood) finds $found', ({ judge, tempC, stood, found }) => {
    const deadbandK = judge.name.endsWith('Danger') ? 0.5 : 0.25
    expect(why(judge({ tempC, trendPerHour: null, band, deadbandK, stood }))).toBe(found)
  })

  test('while the probe is on the move nobody can tell whether the water is cold', () => {
    const cold = { tempC: 18, trendPerHour: null, band, deadbandK: 0.5, stood: false }
    expect(why(judgeWaterColdDanger({ ...cold, onTheMove: true }))).toBe('cannot-tell')
    expect(why(judgeWaterColdDanger({ ...cold, onTheMove: false }))).toBe('below-danger-limit')
  })
  test.each([
    { name: 'rests', kPerMin: 0, everyMin: 1, moves: false },
    // 20 L lose 3 W/K to the room: 15 K over 23 Wh/K are 2 K an hour.
    { name: 'cools as fast as a small tank can', kPerMin: -2 / 60, everyMin: 1, moves: false },
    { name: 'cools as fast as that, seldom heard', kPerMin: -2 / 60, everyMin: 5, moves: false },
    { name: 'falls out of the water', kPerMin: -0.5, everyMin: 1, moves: true },
    { name: 'falls out of the water, seldom heard', kPerMin: -0.5, everyMin: 5, moves: true },
    { name: 'is put back', kPerMin: 1, everyMin: 2, moves: true },
    { name: 'was heard a long time ago', kPerMin: -0.5, everyMin: 20, moves: false }
  ])('a probe that $name is on the move: $moves', ({ kPerMin, everyMin, moves }) => {
    const minutes = Array.from({ length: 12 }, (_, at) => ({
      atMs: at * everyMin * 60_000,
      value: 22 + kPerMin * at * everyMin
    }))
    expect(isOnTheMove(minutes)).toBe(moves)
    expect(isOnTheMove([])).toBe(false)
  })

  test('counts the hours until it becomes dangerous at the present trend', () => {
    const found = judgeWaterCold({ tempC: 22, trendPerHour: -0.5, band, deadbandK: 0.25, stood: false })
    expect(found).toMatchObject({ hoursLeft: 4, limit: 23 })
  })
  // Cherry barbs end at 27: a thermostat set to 26.5 passes that by its own swing, one set to 25 does not.
  test.each([
    { tempC: 27.2, setpointC: 26.5, told: 26.5 },
    { tempC: 27.2, setpointC: 25.9, told: undefined },
    { tempC: 28.1, setpointC: 26.5, told: undefined },
    { tempC: 27.2, setpointC: undefined, told: undefined }
  ])('at $tempC a heater set to $setpointC is told as set too near: $told', ({ tempC, setpointC, told }) => {
    const found = judgeWaterWarm({
      tempC,
      trendPerHour: null,
      band,
      deadbandK: 0.25,
      stood: false,
      setpointC
    })
    expect(found).toMatchObject({ because: 'above-band', limit: 27 })
    expect(typeof found === 'object' ? found?.facts?.setpointC : 'no finding').toBe(told)
  })
  test('promises no hours where the water is warming again', () => {
    const found = judgeWaterCold({ tempC: 22, trendPerHour: 0.5, band, deadbandK: 0.25, stood: false })
    expect(found).not.toHaveProperty('hoursLeft')
  })
})

const minuteMs = 60_000
const hearing = (probe: string, lastHeardMin: number, everyS = 60): Hearing => ({
  probe,
  quantity: 'temperature',
  lastHeardMs: lastHeardMin * minuteMs,
  everyMs: everyS * 1000
})

describe('a silent probe', () => {
  const judge = (own: Hearing, others: readonly Hearing[], atMin: number) =>
    why(judgeProbeSilent({ own: [own], others, nowMs: atMin * minuteMs }))
  test('is missed after three minutes when it speaks every minute', () => {
    expect(judge(hearing('t1', 0), [], 3)).toBe('nothing')
    expect(judge(hearing('t1', 0), [], 3.1)).toBe('gap-beyond-three-intervals')
  })
  test('is not missed before a minute and a half, however often it speaks', () => {
    expect(judge(hearing('t1', 0, 5), [], 1.5)).toBe('nothing')
    expect(judge(hearing('t1', 0, 5), [], 1.6)).toBe('gap-beyond-three-intervals')
  })
  test('is missed after three of its own intervals when it speaks seldom', () => {
    expect(judge(hearing('t1', 0, 600), [], 29)).toBe('nothing')
    expect(judge(hearing('t1', 0, 600), [], 31)).toBe('gap-beyond-three-intervals')
  })
  const unsure = (own: Hearing, others: readonly Hearing[], atMin: number) => {
    const found = judgeProbeSilent({ own: [own], others, nowMs: atMin * minuteMs })
    return found === null || found === 'cannot-tell' ? found : (found.facts?.mayBeCutUntilMs ?? 'sure')
  }
  test('says until when it may be a power cut, where the others need not have spoken since', () => {
    // A word every five minutes is missed after one and a quarter of that and fifteen seconds.
    expect(unsure(hearing('t1', 0.5), [hearing('p1', 0, 300)], 3.6)).toBe(6.5 * minuteMs)
    expect(unsure(hearing('t1', 0.5), [hearing('p1', 0, 300)], 6.6)).toBe('sure')
  })
  test('is sure where another has spoken since', () => {
    expect(unsure(hearing('t1', 0), [hearing('p1', 4.9)], 5.1)).toBe('sure')
    expect(unsure(hearing('t1', 0), [hearing('p1', 1, 300), hearing('r1', 0, 300)], 3.1)).toBe('sure')
  })
})

describe('a power cut', () => {
  const judge = (hearings: readonly Hearing[], atMin: number, boards: readonly BoardLink[] = []) =>
    why(judgePowerCut({ hearings, boards, nowMs: atMin * minuteMs }))
  test('is all probes silent at once', () => {
    expect(judge([hearing('t1', 0), hearing('p1', 0.3)], 5.1)).toBe('all-probes-silent-at-once')
  })
  test('is not one probe of two', () => {
    expect(judge([hearing('t1', 0), hearing('p1', 5)], 5.5)).toBe('nothing')
  })
  test('is not the only probe of a tank, unless its board lost its connection', () => {
    expect(judge([hearing('t1', 0)], 10)).toBe('nothing')
    expect(judge([hearing('t1', 0)], 2, [{ connected: false, sinceMs: 0, probes: ['t1'] }])).toBe(
      'board-connection-lost'
    )
  })
  test('is told early where the board of one that speaks seldom is lost as well', () => {
    const two = [hearing('t1', 0), hearing('p1', 0, 300)]
    const lost = (probe: string) => ({ connected: false, sinceMs: 0.5 * minuteMs, probes: [probe] })
    expect(judge(two, 3.1)).toBe('nothing')
    expect(judge(two, 3.1, [lost('t1')])).toBe('nothing')
    expect(judge(two, 2.9, [lost('t1'), lost('p1')])).toBe('nothing')
    expect(judge(two, 3.1, [lost('t1'), lost('p1')])).toBe('board-connection-lost')
  })
  test('is one board of two that is lost with two probes, not with one nor with one that died long before', () => {
    const lost = (...probes: string[]) => [{ connected: false, sinceMs: 60 * minuteMs, probes }]
    const three = [hearing('t1', 60), hearing('p1', 60), hearing('r1', 62)]
    expect(judge(three, 62.1, lost('t1', 'p1'))).toBe('one-board-lost')
    expect(judge(three, 62.1, [{ connected: true, sinceMs: 0, probes: ['t1', 'p1'] }])).toBe('nothing')
    expect(judge(three, 62.1, lost('t1'))).toBe('nothing')
    expect(judge([hearing('t1', 0), ...three.slice(1)], 62.1, lost('t1', 'p1'))).toBe('nothing')
  })
  test('is one board from the first of its probes that is silent on, though another speaks seldom', () => {
    const lost = [{ connected: false, sinceMs: 60 * minuteMs, probes: ['t1', 'p1'] }]
    const three = (atMin: number) => [hearing('t1', 60), hearing('p1', 59, 600), hearing('r1', atMin)]
    expect(judge(three(62.9), 62.9, lost)).toBe('nothing')
    expect(judge(three(63.1), 63.1, lost)).toBe('one-board-lost')
  })
  test('is not a second probe that falls silent long after the first', () => {
    expect(judge([hearing('t1', 0), hearing('p1', 60)], 66)).toBe('nothing')
  })
  test('is seen through a probe that had died long before', () => {
    expect(judge([hearing('dead', 0), hearing('t1', 60), hearing('p1', 60)], 65.5)).toBe(
      'all-probes-silent-at-once'
    )
  })
})

describe('unsafe ammonia', () => {
  const judge = (value: number | null, stood = false) =>
    why(
      judgeAmmoniaUnsafe({
        nh3: { value, low: null, high: null, from: {}, asOfMs: null },
        deadbandMgL: 0.01,
        stood
      })
    )
  const cases = [
    { value: 0.05, stood: false, found: 'nothing' },
    { value: 0.051, stood: false, found: 'beyond-act-tier' },
    { value: 0.045, stood: true, found: 'beyond-act-tier' },
    { value: 0.039, stood: true, found: 'nothing' },
    { value: 0.2, stood: false, found: 'beyond-act-tier' },
    { value: 0.21, stood: false, found: 'beyond-emergency-tier' },
    { value: null, stood: true, found: 'cannot-tell' }
  ]
  test.each(cases)('$value mg NH3/L (stood: $stood): $found', ({ value, stood, found }) => {
    expect(judge(value, stood)).toBe(found)
  })
})
