import { describe, expect, test } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import { closedCircuit, isResting, longestPauseMs, stepCircuit } from '../../services/notify/backoff.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

/**
 * An hour under a clock that runs ahead, then under the right one: an hour of well water, two hours and more of cold
 * that somebody acknowledges, and silence. Answers what happened, by the minute.
 */
function live(aheadHours: number): readonly string[] {
  let ids = 0
  const watch = makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
  const happened: string[] = []
  for (let minute = 0; minute < 300; minute += 1) {
    const nowMs = startMs + minute * minuteMs + (minute < 60 ? aheadHours * hourMs : 0)
    const value = (minute < 120 ? 25 : 15) + 0.02 * Math.sin(minute / 7)
    const when = { atMs: nowMs, arrivedAtMs: nowMs, clock: 'arrival', flag: 1 } as const
    if (minute < 260)
      watch.feed([{ tankId: 'kitchen', probe: 't1', quantity: 'temperature', value, ...when }])
    for (const { kind, to, because } of watch.tick(nowMs).changes)
      happened.push(`${minute} ${kind} ${to} ${because}`)
    const danger = watch
      .board()
      .slots()
      .find(({ kind }) => kind === 'water-cold-danger')
    if (minute === 200) watch.ask(danger?.activationId ?? '', { on: 'acknowledge', by: 'keeper' }, nowMs)
  }
  return happened
}

describe('a clock that ran ahead and is set back', () => {
  const right = live(0)
  test('hushes nothing: danger rings, rings again half an hour after it was seen, and silence is told', () => {
    const rings = right.filter((line) => line.includes(' unacknowledged '))
    expect(rings).toEqual([
      expect.stringMatching(/^12\d water-cold-danger unacknowledged below-danger-limit$/),
      '230 water-cold-danger unacknowledged re-alarm',
      expect.stringMatching(/^26\d probe-silent unacknowledged /)
    ])
  })
  test.each([1, 24, 48, 365 * 24])('by %i hours, all is judged as if it had always been right', (hours) => {
    expect(live(hours)).toEqual(right)
  })
})

test('an alarm seen or put aside under such a clock rings again by the right one', () => {
  const yearMs = 365 * 24 * hourMs
  for (const person of ['acknowledge', 'shelve'] as const) {
    let ids = 0
    const watch = makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
    const rang: number[] = []
    for (let minute = 0; minute < 27 * 60; minute += 1) {
      const nowMs = startMs + minute * minuteMs + (minute < 60 ? yearMs : 0)
      const value = 15 + 0.02 * Math.sin(minute / 7)
      const when = { atMs: nowMs, arrivedAtMs: nowMs, clock: 'arrival', flag: 1 } as const
      watch.feed([{ tankId: 'kitchen', probe: 't1', quantity: 'temperature', value, ...when }])
      for (const { kind, to } of watch.tick(nowMs).changes)
        if (kind === 'water-cold-danger' && to === 'unacknowledged') rang.push(minute)
      const id = watch
        .board()
        .slots()
        .find(({ kind }) => kind === 'water-cold-danger')?.activationId
      if (minute !== 50) continue
      const by = 'keeper'
      const untilMs = nowMs + hourMs
      watch.ask(id ?? '', person === 'shelve' ? { on: person, by, untilMs } : { on: person, by }, nowMs)
    }
    // Half an hour for what was seen, a day at most for what was put aside, reckoned from the setting of the clock.
    const againMin = (rang[1] ?? Number.NaN) - 60
    if (person === 'acknowledge') expect(againMin).toBeLessThanOrEqual(31)
    else expect(againMin).toBeLessThanOrEqual(24 * 60 + 1)
  }
})

test('a way that rested under such a clock does not rest until then', () => {
  const failed = [1, 2, 3].reduce((circuit) => stepCircuit(circuit, 'failed', startMs), closedCircuit)
  expect(isResting(failed, startMs + 1)).toBe(true)
  expect(isResting(failed, startMs - longestPauseMs - hourMs)).toBe(false)
})
