import { expect, test } from 'vitest'
import type { TankWatch } from '../../services/hub/tank-watch.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { minuteMs, startMs } from './a-tank-week.ts'
import { keep, nothingKept, openKept } from './kept-watch.ts'

/** One probe on one board: heard for an hour, lost for an hour, and back. Answers what rang and ended, by minute. */
function live(restartMinutes: readonly number[], everyMin = 1): readonly string[] {
  const kept = nothingKept()
  let ids = 0
  const open = (lastMinuteMs?: number): TankWatch =>
    openKept(kept, { newId: () => `a${++ids}`, ...(lastMinuteMs === undefined ? {} : { lastMinuteMs }) })
  let watch = open()
  for (let minute = 0; minute <= 150; minute += 1) {
    const nowMs = startMs + minute * minuteMs
    if (minute === 60 || minute === 120)
      watch.connection({ clientId: 'board', connected: minute === 120, atMs: nowMs })
    if ((minute < 60 || minute >= 120) && minute % everyMin === 0) {
      const value = 25 + 0.02 * Math.sin(minute / 7)
      const reading: ReadingToStore = {
        tankId: 'kitchen',
        probe: 't1',
        quantity: 'temperature',
        value,
        atMs: nowMs,
        arrivedAtMs: nowMs,
        clock: 'device',
        flag: 1,
        clientId: 'board'
      }
      watch.feed([reading])
      kept.readings.push(reading)
    }
    const outcome = watch.tick(nowMs)
    keep(kept, outcome)
    if (restartMinutes.includes(minute)) watch = open(nowMs)
  }
  return kept.changes.map(({ atMs, kind, to }) => `${(atMs - startMs) / minuteMs} ${kind} ${to}`)
}

test.each([1, 5])('a lost board with its only probe, every %i min: a restart changes nothing', (everyMin) => {
  const undisturbed = live([], everyMin)
  expect(undisturbed.map((line) => line.split(' ').slice(1).join(' '))).toEqual([
    'power-cut unacknowledged',
    'probe-silent suppressed',
    'power-cut returned-unacknowledged',
    'probe-silent normal'
  ])
  for (const minute of [75, 100, 119]) expect(live([minute], everyMin)).toEqual(undisturbed)
  expect(live([70, 71, 90, 110], everyMin)).toEqual(undisturbed)
})
