import { expect, test } from 'vitest'
import { composeLooksWrong } from '../../services/care/looks-wrong.ts'
import { lookSceneOf } from '../../services/hub/look-wrong.ts'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import { event, kitTest, stocked } from '../tank/a-profile.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const startMs = 1_790_000_040_000 - (1_790_000_040_000 % hourMs)
const nowMs = startMs + 2 * hourMs
const answers = { gasping: 'unsure', since: 'unsure', who: 'unsure' } as const

/** Two hours of two probes; `more` holds what the keeper told. */
function watchOf(tempC: number, pH: number, more: Partial<Parameters<typeof makeTankWatch>[0]> = {}) {
  let made = 0
  const watch = makeTankWatch({
    tankId: 'kitchen',
    profile: { ...stocked, heaterW: 100, tap: { disinfectant: 'chlorine' } },
    newId: () => {
      made += 1
      return `a${made}`
    },
    ...more
  })
  for (let atMs = startMs; atMs <= nowMs; atMs += minuteMs) {
    for (const [probe, quantity, value] of [
      ['t1', 'temperature', tempC],
      ['p1', 'ph', pH]
    ] as readonly (readonly [string, Quantity, number])[])
      watch.feed([
        { tankId: 'kitchen', probe, quantity, value, atMs, arrivedAtMs: atMs, clock: 'device', flag: 1 }
      ])
    watch.tick(atMs)
  }
  return watch
}

test('what the watch knows goes into the scene: values, tests, events, heater, alarms', () => {
  const watch = watchOf(33, 7.4, {
    tests: [kitTest(startMs - hourMs, { ammonia: 0.25, nitrite: 0.1 })],
    events: [event(startMs, 'water-changed', { fraction: 0.3, conditioner: false })]
  })
  const scene = lookSceneOf({ watch, answers, nowMs })
  expect(scene).toMatchObject({
    ...{ stage: 'stocked', hasFish: true, tempC: 33, pH: 7.4, heated: true, disinfectant: 'chlorine' },
    ammoniaTestedMs: startMs - hourMs,
    nitrite: { mgLAsN: 0.1, atMs: startMs - hourMs }
  })
  expect(scene.alarms).toContain('chlorine-present')
  expect(scene.alarms).toContain('water-warm-danger')
  expect(composeLooksWrong(scene).steps.map(({ step }) => step)).toEqual(
    expect.arrayContaining(['unplug-heater', 'more-air', 'no-food', 'conditioner', 'cool-slowly'])
  )
})

test('a probe that fell silent says nothing of now; a pH test of yesterday does', () => {
  const watch = watchOf(24, 7.4, { tests: [kitTest(startMs - hourMs, { ammonia: 0, ph: 7.1 })] })
  const later = lookSceneOf({ watch, answers, nowMs: nowMs + 20 * hourMs })
  expect(later.tempC).toBeNull()
  expect(later.pH).toBe(7.1)
  expect(lookSceneOf({ watch, answers, nowMs: nowMs + 100 * hourMs }).pH).toBeNull()
})

test('ammonia that is locked in acid water makes for small changes, though toxic ammonia is low', () => {
  const ammonia = (mgL: number) => ({ tests: [kitTest(startMs - hourMs, { ammonia: mgL, nitrite: 0 })] })
  const locked = lookSceneOf({ watch: watchOf(24, 6.7, ammonia(3)), answers, nowMs })
  expect(locked.nh3.value).toBeLessThan(0.02)
  expect(locked.ammoniaLocked).toBe(true)
  expect(composeLooksWrong(locked).steps.map(({ step }) => step)).toContain('small-change')
  const free = lookSceneOf({ watch: watchOf(24, 6.7, ammonia(0.25)), answers, nowMs })
  expect(free.ammoniaLocked).toBe(false)
})
