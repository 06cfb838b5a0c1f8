import { describe, expect, test } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import { emptyTank, fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

/** A young tank with fish since twenty days, given to the watch a moment before twenty past the hour. */
function newlyWatched() {
  let ids = 0
  const createdAtMs = startMs + 19 * minuteMs
  const watch = makeTankWatch({
    tankId: 'kitchen',
    profile: { ...fishTank, start: { answer: 'fish-new', atMs: startMs - 480 * hourMs } },
    createdAtMs,
    newId: () => `a${++ids}`
  })
  const due = () =>
    watch
      .board()
      .slots()
      .find(({ kind }) => kind === 'test-overdue')?.state ?? 'normal'
  return { watch, createdAtMs, due }
}

const written = (takenAtMs: number): ManualTest => ({
  id: `test-${takenAtMs}`,
  takenAtMs,
  results: [
    { quantity: 'ammonia', value: 0, unit: 'mg/L', basis: 'N' },
    { quantity: 'nitrite', value: 0, unit: 'mg/L', basis: 'N' }
  ]
})

describe('a test that is due', () => {
  test('rings for a tank new to the watch half a day after it was made known, and not while it is being set up', () => {
    const { watch, createdAtMs, due } = newlyWatched()
    let rangMs: number | null = null
    for (let atMs = createdAtMs; rangMs === null && atMs < createdAtMs + 24 * hourMs; atMs += minuteMs) {
      watch.tick(atMs)
      if (due() === 'unacknowledged') rangMs = atMs
    }
    expect((rangMs ?? 0) - createdAtMs).toBe(12 * hourMs + minuteMs)
  })

  test.each([
    { who: 'with fish that were always there', profile: fishTank, kind: 'fed', afterH: 84 },
    { who: 'in a cycle without fish', profile: emptyTank, kind: 'dosed', afterH: 24 }
  ] as const)(
    '$who is not put off by what else the keeper writes down each day',
    ({ profile, kind, afterH }) => {
      let ids = 0
      const watch = makeTankWatch({
        tankId: 'kitchen',
        profile: { ...profile, start: undefined },
        createdAtMs: startMs,
        newId: () => `a${++ids}`
      })
      const daily = Array.from(
        { length: 10 },
        (_, day): TankEvent => ({
          id: `event-${day}`,
          atMs: startMs + day * 24 * hourMs,
          kind,
          ...(kind === 'dosed' ? { data: { substance: 'ammonium chloride', amount: 1, unit: 'g' } } : {})
        })
      )
      watch.setEntries({ events: daily })
      const rang: number[] = []
      for (let atMs = startMs; atMs < startMs + 240 * hourMs; atMs += minuteMs)
        for (const { to, kind: alarm } of watch.tick(atMs).changes)
          if (alarm === 'test-overdue' && to === 'unacknowledged') rang.push(atMs)
      // Half a rhythm after it became due, by the condition of the alarm.
      expect(rang.map((atMs) => Math.floor((atMs - startMs) / hourMs))).toEqual([afterH])
    }
  )

  test('is over within the minute in which it was written down, and leaves nothing to be looked at', () => {
    const { watch, createdAtMs, due } = newlyWatched()
    let atMs = createdAtMs
    for (; due() === 'normal' && atMs < createdAtMs + 24 * hourMs; atMs += minuteMs) watch.tick(atMs)
    expect(due()).toBe('unacknowledged')
    watch.take()
    watch.setEntries({ tests: [written(atMs)] })
    const { changes } = watch.tick(atMs)
    expect(changes.map(({ from, to, because }) => [from, to, because])).toEqual([
      ['unacknowledged', 'acknowledged', 'done-by-hand'],
      ['acknowledged', 'normal', 'cleared']
    ])
    expect(due()).toBe('normal')
  })
})
