import { describe, expect, test } from 'vitest'
import { nowViewOf } from '../../services/hub/now.ts'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import { event, kitTest } from '../tank/a-profile.ts'
import { emptyTank, fish, fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

const nowMs = startMs + 100 * hourMs
const ago = (hours: number): number => nowMs - hours * hourMs

function now(given: {
  profile: TankProfile
  tests?: readonly ManualTest[]
  events?: readonly TankEvent[]
  tempC?: number
  pH?: number
}) {
  const tests = given.tests ?? []
  const watch = makeTankWatch({ ...given, tankId: 'kitchen', newId: () => 'a' })
  for (let minute = 40; minute >= 0; minute -= 1) {
    const atMs = nowMs - minute * minuteMs
    const common = { tankId: 'kitchen', atMs, arrivedAtMs: atMs, clock: 'device', flag: 1 } as const
    if (given.tempC !== undefined)
      watch.feed([{ ...common, probe: 't1', quantity: 'temperature', value: given.tempC }])
    if (given.pH !== undefined) watch.feed([{ ...common, probe: 'p1', quantity: 'ph', value: given.pH }])
    watch.tick(atMs)
  }
  const { sentence, verdict, next, stage } = nowViewOf({
    tankId: 'kitchen',
    watch,
    tests,
    virtual: false,
    nowMs
  })
  return { sentence, level: verdict.level, because: verdict.because, next, stage }
}
const start = (answer: 'dry' | 'filled' | 'fish-new') => ({ answer, atMs: ago(50) })

describe('the one sentence and what comes next', () => {
  const cases = [
    {
      name: 'a dry tank is to be filled',
      given: { profile: { ...emptyTank, start: start('dry') } },
      sentence: 'The tank is dry: fill it to begin.',
      level: 'well',
      step: 'fill'
    },
    {
      name: 'a filled one is to be cycled before fish',
      given: { profile: { ...emptyTank, start: start('filled') }, tempC: 25 },
      sentence: 'The water is 25.0 °C. No fish yet: the cycle can begin.',
      level: 'well',
      step: 'start-cycle'
    },
    {
      name: 'a cycle at full ammonia is progress',
      given: {
        profile: { ...emptyTank, start: start('filled') },
        tests: [kitTest(ago(30), { ammonia: 4, nitrite: 5 })],
        tempC: 25,
        pH: 8.2
      },
      sentence: 'The water is 25.0 °C. The cycle is on its way, without fish.',
      level: 'well',
      step: 'test-ammonia-nitrite'
    },
    {
      name: 'new fish without any test: nobody knows',
      given: { profile: { ...fishTank, start: start('fish-new') }, tempC: 25, pH: 7 },
      sentence: 'The water is 25.0 °C. Nobody knows the ammonia yet: test now.',
      level: 'unknown',
      step: 'test-ammonia-nitrite'
    },
    {
      name: 'new fish, tested three days ago: too old',
      given: {
        profile: { ...fishTank, start: start('fish-new') },
        tests: [kitTest(ago(70), { ammonia: 0, nitrite: 0 })],
        tempC: 25,
        pH: 7
      },
      sentence: 'The water is 25.0 °C. Nobody knows the ammonia: the last test is too old. Test now.',
      level: 'unknown',
      step: 'test-ammonia-nitrite'
    },
    {
      name: 'a running tank, tested yesterday',
      given: { profile: fishTank, tests: [kitTest(ago(20), { ammonia: 0, nitrite: 0 })], tempC: 25, pH: 7 },
      sentence: 'The water is 25.0 °C. Ammonia was tested 20 hours ago. All that is known is well.',
      level: 'well',
      step: 'test-ammonia-nitrite'
    },
    {
      name: 'a running tank whose upper bound of toxic ammonia is above what fish bear for long',
      given: {
        profile: fishTank,
        tests: [kitTest(ago(2), { ammonia: 0.25, nitrite: 0 })],
        tempC: 25,
        pH: 7.9
      },
      sentence:
        'The water is 25.0 °C. Ammonia was tested 2 hours ago. Toxic ammonia may be higher than fish bear for long: test twice a day until it is not.',
      level: 'watch',
      step: 'test-ammonia-nitrite'
    },
    {
      // Emerson et al. 1975: at pH 8.6 and 24.6 degC 17.5 % of 1.64 mg/L as N are toxic, far above 0.05 mg/L.
      name: 'fish in ammonia that harms them, before the alarm has waited its minutes',
      given: {
        profile: fishTank,
        tests: [kitTest(nowMs, { ammonia: 1.64, nitrite: 0 })],
        tempC: 24.6,
        pH: 8.6
      },
      sentence:
        'The water is 24.6 °C. Toxic ammonia is where it harms fish. Stop feeding, give more air, and test again now.',
      level: 'act',
      step: 'test-ammonia-nitrite'
    },
    {
      name: 'a binder leaves it open',
      given: {
        profile: fishTank,
        tests: [kitTest(ago(2), { ammonia: 0.25, nitrite: 0 })],
        events: [event(ago(1), 'conditioner-added', { substance: 'ammonia binder' })],
        tempC: 25,
        pH: 7.8
      },
      sentence:
        'The water is 25.0 °C. A conditioner binds the ammonia, so no one can tell how much is free. Test in two days.',
      level: 'unknown',
      step: 'test-ammonia-nitrite'
    }
  ]
  test.each(cases)('$name', ({ given, sentence, level, step }) => {
    const seen = now(given)
    expect(seen.sentence).toBe(sentence)
    expect(seen.level).toBe(level)
    expect(seen.next.step).toBe(step)
  })

  test('an alarm that stands is the sentence', () => {
    const seen = now({
      profile: fishTank,
      tempC: 22,
      tests: [kitTest(ago(2), { ammonia: 0, nitrite: 0 })],
      pH: 7
    })
    expect(seen).toMatchObject({ level: 'watch', because: 'water-cold' })
    expect(seen.sentence).toContain('The water is 22.0 °C, below 23.0 °C')
  })

  test('water tests follow the stage: daily with new fish, every other day in a cycle, weekly later', () => {
    const dueH = (profile: TankProfile, ammonia: number): number => {
      const { next } = now({ profile, tests: [kitTest(ago(2), { ammonia, nitrite: 0 })], tempC: 25, pH: 7 })
      return ((next.dueAtMs ?? 0) - ago(2)) / hourMs
    }
    expect(dueH({ ...fishTank, start: start('fish-new') }, 0)).toBe(24)
    expect(dueH({ ...emptyTank, start: start('filled') }, 2)).toBe(48)
    expect(dueH({ ...emptyTank, species: [fish] }, 0)).toBe(7 * 24)
  })

  // Twice a day: common practice, no source.
  test('ammonia that is only worth watching: the sentence and the next step name the same rhythm', () => {
    const seen = now({
      profile: { ...emptyTank, species: [fish] },
      tests: [kitTest(ago(1), { ammonia: 0.6, nitrite: 0 })],
      tempC: 26,
      pH: 7.6
    })
    expect(seen.because).toBe('ammonia-worth-watching')
    expect(seen.sentence).toContain('test twice a day')
    expect(((seen.next.dueAtMs ?? 0) - ago(1)) / hourMs).toBe(12)
    expect(seen.next.words).toBe('Test ammonia and nitrite in about 11 hours.')
  })
  test('ammonia that is locked in acid water is not called well, and tested twice a day', () => {
    const acid = { tests: [kitTest(ago(1), { ammonia: 1.5, nitrite: 0 })], tempC: 24, pH: 6.4 }
    const seen = now({ ...acid, profile: fishTank })
    expect(seen).toMatchObject({ level: 'watch', because: 'ammonia-locked' })
    expect(seen.sentence).toMatch(/locked in acid water: that is not safe/)
    expect(((seen.next.dueAtMs ?? 0) - ago(1)) / hourMs).toBe(12)
    expect(now({ ...acid, profile: emptyTank }).level).toBe('well')
  })
})
