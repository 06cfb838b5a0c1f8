import { expect, test, vi } from 'vitest'
import { goesOn } from '../../services/alarm/life.ts'
import type { TimedHappening } from '../../services/rehearsal/happening.ts'
import { watchLife } from '../bench/water-life.ts'
import { hourMs, lifeOf, startAtMs } from './a-heated-tank.ts'

// Days of a tank's life, minute by minute.
vi.setConfig({ testTimeout: 180_000 })

/** Four days to learn from, then the heater dies. */
const onset = 4 * 24 + 10
const at = (hours: number, happening: TimedHappening['happening']) => ({ hours, happening })

test('a dead heater rings once, however often the power fails for ten minutes after', () => {
  // All within the four hours after which an alarm as urgent as this rings anew. Probes fall silent with the mains.
  const cuts = [2, 3, 4].flatMap((after) => [
    at(onset + after, { kind: 'mains', on: false }),
    at(onset + after + 1 / 6, { kind: 'mains', on: true })
  ])
  const life = lifeOf({
    days: 5,
    happenings: [at(onset, { kind: 'heater', health: { kind: 'dead' } }), ...cuts]
  })
  const changes = watchLife(life, { seed: 'flapping', fish: true, tests: [] })
  const hour = (atMs: number): number => (atMs - startAtMs) / hourMs - onset
  const steps = changes
    .filter(({ kind, atMs }) => kind === 'heater-not-heating' && hour(atMs) < 4.5)
    .map(({ to, because }) => `${to} ${because}`)
  expect(changes.filter(({ kind, from }) => kind === 'power-cut' && from === 'normal')).toHaveLength(1)
  expect(steps).toEqual([
    expect.stringMatching(/^unacknowledged /),
    ...cuts.flatMap((_, index) =>
      index % 2 === 0 ? ['suppressed hushed-by-power-cut', `unacknowledged ${goesOn}`] : []
    )
  ])
  const rang = changes.find(({ kind }) => kind === 'heater-not-heating')
  expect(hour(rang?.atMs ?? Number.NaN)).toBeLessThan(2)
})
