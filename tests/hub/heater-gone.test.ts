import { expect, test } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import { fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

test('a heater that is no longer there is nothing to call for: its alarm ends', () => {
  let ids = 0
  const profile = { ...fishTank, heaterW: 100, setpointC: 25 }
  const watch = makeTankWatch({ tankId: 'kitchen', profile, createdAtMs: startMs, newId: () => `a${++ids}` })
  const slot = () =>
    watch
      .board()
      .slots()
      .find(({ kind }) => kind === 'heater-not-heating')
  let nowMs = startMs
  const live = (hours: number, waterC: (h: number) => number): void => {
    for (const endMs = nowMs + hours * hourMs; nowMs < endMs; nowMs += minuteMs) {
      const value = waterC((nowMs - startMs) / hourMs)
      const reading = { tankId: 'kitchen', probe: 't1', quantity: 'temperature', value } as const
      watch.feed([{ ...reading, atMs: nowMs, arrivedAtMs: nowMs, clock: 'device', flag: 1 }])
      watch.tick(nowMs)
    }
  }
  live(36, (h) => 25 + 0.2 * Math.sin(3 * h))
  live(6, (h) => 25 - 0.5 * (h - 36))
  expect(slot()?.state).toBe('unacknowledged')
  watch.setEntries({ profile: { ...profile, heaterW: 0 } })
  live(2, () => 22)
  expect(slot()?.state).toBe('returned-unacknowledged')
})
