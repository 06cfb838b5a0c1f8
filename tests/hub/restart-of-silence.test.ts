import { expect, test } from 'vitest'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, minuteMs, startMs } from './a-tank-week.ts'

/** One probe on one board: heard for an hour, lost for an hour, and back. Answers what rang and ended, by minute. */
function live(restartMinutes: readonly number[], everyMin = 1): readonly string[] {
  const readings: ReadingToStore[] = []
  const slots = new Map<string, AlarmSlot>()
  const changes: AlarmChange[] = []
  let ids = 0
  const open = (lastMinuteMs?: number): TankWatch =>
    makeTankWatch({
      tankId: 'kitchen',
      profile: fishTank,
      readings,
      slots: JSON.parse(JSON.stringify([...slots.values()])) as AlarmSlot[],
      changes,
      ...(lastMinuteMs === undefined ? {} : { lastMinuteMs }),
      newId: () => `a${++ids}`
    })
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
      readings.push(reading)
    }
    const outcome = watch.tick(nowMs)
    changes.push(...outcome.changes)
    for (const slot of outcome.slots) slots.set(`${slot.kind} ${slot.subject}`, slot)
    if (restartMinutes.includes(minute)) watch = open(nowMs)
  }
  return changes.map(({ atMs, kind, to }) => `${(atMs - startMs) / minuteMs} ${kind} ${to}`)
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
