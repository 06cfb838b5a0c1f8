import { describe, expect, test } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, minuteMs, startMs } from './a-tank-week.ts'

const at = (minutes: number): number => startMs + minutes * minuteMs
const says = (probe: string, quantity: Quantity, minute: number): ReadingToStore => ({
  ...{
    tankId: 'kitchen',
    probe,
    quantity,
    atMs: at(minute),
    arrivedAtMs: at(minute),
    clock: 'device',
    flag: 1
  },
  value: (quantity === 'ph' ? 7.2 : 24.5) + 0.02 * Math.sin(minute / 7)
})
const both = (minute: number): readonly ReadingToStore[] => [
  says('t1', 'temperature', minute),
  says('p1', 'ph', minute)
]

/** A board was tried out for an hour; the tank is made at minute 0, and the board speaks again in the minutes told. */
function rung(
  given: Readonly<{ triedUntil: number; speaks: (minute: number) => boolean; restartAt?: number }>
) {
  let ids = 0
  const heard = Array.from({ length: 60 }, (_, back) => both(given.triedUntil - 59 + back)).flat()
  const open = (lastMinute: number, slots: readonly AlarmSlot[] = []) =>
    makeTankWatch({
      ...{ tankId: 'kitchen', profile: fishTank, createdAtMs: at(0), lastMinuteMs: at(lastMinute) },
      ...{ readings: [...heard], slots, newId: () => `a${++ids}` }
    })
  let watch = open(-1)
  const seen: string[] = []
  for (let minute = 0; minute < 60; minute += 1) {
    if (minute === given.restartAt) watch = open(minute - 1, watch.board().slots())
    if (given.speaks(minute)) {
      heard.push(...both(minute))
      watch.feed(both(minute))
    }
    for (const { kind, to } of watch.tick(at(minute)).changes)
      if (to === 'unacknowledged') seen.push(`${minute} ${kind}`)
  }
  return seen
}

describe('probes that were tried out before their tank was made, and put away', () => {
  test.each([undefined, 20])('are not missed, restarted at minute %s', (restartAt) => {
    const more = restartAt === undefined ? {} : { restartAt }
    expect(rung({ triedUntil: -40, speaks: () => false, ...more })).toEqual([])
  })

  test.each([undefined, 20])(
    'are missed once they have spoken again, restarted at minute %s',
    (restartAt) => {
      const more = restartAt === undefined ? {} : { restartAt }
      const speaks = (minute: number) => minute >= 5 && minute < 15
      const [first, ...others] = rung({ triedUntil: -40, speaks, ...more })
      expect(first).toMatch(/^1[5-9] power-cut$/)
      expect(others).toEqual([])
    }
  )
})
