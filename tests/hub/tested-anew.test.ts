import { describe, expect, test } from 'vitest'
import { definitionOf } from '../../services/alarm/definitions.ts'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import { event, kitTest } from '../tank/a-profile.ts'
import { fishTank, minuteMs, startMs } from './a-tank-week.ts'

const at = (minutes: number): number => startMs + minutes * minuteMs

/** What becomes of one kind of alarm in a tank without probes, as minute and state. */
function path(kind: string, tests: readonly ManualTest[], events: readonly TankEvent[] = []) {
  let ids = 0
  const watch = makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
  const seen: string[] = []
  for (let minute = 0; minute < 240; minute += 1) {
    const nowMs = at(minute)
    watch.setEntries({
      tests: tests.filter(({ takenAtMs }) => takenAtMs <= nowMs),
      events: events.filter(({ atMs }) => atMs <= nowMs)
    })
    for (const change of watch.tick(nowMs).changes)
      if (change.kind === kind) seen.push(`${minute} ${change.to}`)
  }
  return seen
}

const bad = kitTest(at(5), { ammonia: 3, nitrite: 2, ph: 8, temperature: 24.5, kh: 1 })
const good = kitTest(at(100), { ammonia: 0, nitrite: 0, ph: 8, temperature: 24.5, kh: 6 })

describe('what a test showed', () => {
  // Hardness goes slowly and is judged every five minutes.
  test.each([
    { kind: 'ammonia-unsafe', withinMin: 0 },
    { kind: 'nitrite-unsafe', withinMin: 0 },
    { kind: 'alkalinity-low', withinMin: 5 }
  ])('$kind is over as soon as a later test shows it no more, and is still to be seen', (given) => {
    const [rang, over, ...more] = path(given.kind, [bad, good])
    expect(rang).toMatch(/ unacknowledged$/)
    expect(over).toMatch(/ returned-unacknowledged$/)
    expect(Number.parseInt(over ?? '', 10)).toBeLessThanOrEqual(100 + given.withinMin)
    expect(more).toEqual([])
  })

  test('is waited for where only a change of water that was told has thinned it', () => {
    const change = event(at(100), 'water-changed', { fraction: 0.9 })
    const [, over] = path('nitrite-unsafe', [bad], [change])
    const endedMs = change.atMs + definitionOf('nitrite-unsafe').offDelayMs
    expect(over).toBe(`${(endedMs - startMs) / minuteMs} returned-unacknowledged`)
  })
})
