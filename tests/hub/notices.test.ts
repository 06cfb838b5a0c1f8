import { expect, test } from 'vitest'
import { noticesAt } from '../../services/hub/notices.ts'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import { event, kitTest, stocked } from '../tank/a-profile.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const startMs = 1_790_000_040_000 - (1_790_000_040_000 % hourMs)

/** Lives some hours, every five minutes a reading; null where nothing is heard. Answers what is said at the end. */
function said(
  given: Readonly<{
    hours: number
    tempC?: (hour: number) => number | null
    pH?: (hour: number) => number | null
    tests?: readonly ManualTest[]
    events?: readonly TankEvent[]
    profile?: TankProfile
  }>
): readonly string[] {
  const { tempC = () => 24.5, pH = () => 7.2 } = given
  let made = 0
  const watch = makeTankWatch({
    tankId: 'kitchen',
    profile: given.profile ?? stocked,
    newId: () => {
      made += 1
      return `a${made}`
    },
    ...(given.tests === undefined ? {} : { tests: given.tests }),
    ...(given.events === undefined ? {} : { events: given.events })
  })
  const lanes: readonly (readonly [string, Quantity, (hour: number) => number | null])[] = [
    ['t1', 'temperature', tempC],
    ['p1', 'ph', pH]
  ]
  const endMs = startMs + given.hours * hourMs
  for (let atMs = startMs; atMs <= endMs; atMs += minuteMs) {
    if ((atMs - startMs) % (5 * minuteMs) === 0)
      for (const [probe, quantity, at] of lanes) {
        const value = at((atMs - startMs) / hourMs)
        if (value !== null)
          watch.feed([
            { tankId: 'kitchen', probe, quantity, value, atMs, arrivedAtMs: atMs, clock: 'device', flag: 1 }
          ])
      }
    watch.tick(atMs)
  }
  return noticesAt(watch, watch.derivedAt(endMs), endMs).map(({ notice, words }) => `${notice}: ${words}`)
}
const at = (hour: number): number => startMs + hour * hourMs

test('an ordinary hour says nothing', () => expect(said({ hours: 2 })).toEqual([]))

test('1 mg/L or more of ammonia below pH 6.8 is locked, not safe', () => {
  const [locked] = said({ hours: 2, pH: () => 6.5, tests: [kitTest(at(1), { ammonia: 1.2 })] })
  expect(locked).toMatch(/^ammonia-locked-not-safe: Locked, not safe: 1\.2 mg\/L/)
  // As fast as the alarms of pH and hardness let it come back: neither forbids what the other asks for.
  expect(locked).toMatch(/10 to 15 % only, and nothing that lifts the pH fast: KH by 1 dKH a day at most/)
  expect(said({ hours: 2, pH: () => 6.5, tests: [kitTest(at(1), { ammonia: 0.8 })] })).toEqual([])
  expect(said({ hours: 2, pH: () => 6.9, tests: [kitTest(at(1), { ammonia: 1.2 })] })).toEqual([])
})

test('without fish locked ammonia is progress', () => {
  const { species: _gone, ...empty } = stocked
  expect(
    said({ hours: 2, profile: empty, pH: () => 6.5, tests: [kitTest(at(1), { ammonia: 1.2 })] })
  ).toEqual([])
})

test('a pH evening that turns a harmless test toxic says so', () => {
  const [turned] = said({
    hours: 8,
    pH: (hour) => (hour < 4 ? 7.2 : 8.2),
    tests: [kitTest(at(1), { ammonia: 1 })]
  })
  // 0.010 and 0.097 mg NH3/L: Emerson et al. 1975 at 24.5 °C.
  expect(turned).toMatch(
    /^harmless-test-now-toxic: When you tested, 0\.010 mg\/L .* at pH 7\.2\. .* 8\.2 since: now it is 0\.09\d mg\/L/
  )
})

test('after hands were in the tank the four usual omissions are asked for, for an hour', () => {
  const hands = event(at(1), 'maintenance-started', { minutes: 30 })
  expect(said({ hours: 1.25, events: [hands] })).toEqual([])
  expect(said({ hours: 2, events: [hands] })[0]).toMatch(/^after-hands-in-the-tank/)
  expect(said({ hours: 3, events: [hands] })).toEqual([])
})

test('a tank without a heater is not asked whether it is plugged in', () => {
  const hands = event(at(1), 'maintenance-started', { minutes: 30 })
  const asked = (profile: TankProfile) => said({ hours: 2, events: [hands], profile })[0]
  expect(asked(stocked)).toMatch(/Four things/)
  expect(asked({ ...stocked, heaterW: 0 })).toMatch(/Three things/)
})

test('when power is back it tells how long it was gone and how far the water cooled', () => {
  const cut = (hour: number): boolean => hour >= 3 && hour < 8
  const [back] = said({
    hours: 8.5,
    tempC: (hour) => (cut(hour) ? null : hour < 3 ? 24.5 : 22.9),
    pH: (hour) => (cut(hour) ? null : 7.2)
  })
  expect(back).toMatch(
    /^power-is-back: Everything is heard again after 5 hours of silence\. The water is 1\.6 °C colder/
  )
  expect(back).toMatch(/Open a closed filter and rinse its media in tank water/)
})

test('a told change of CO2 is spoken of and no alarm', () => {
  const co2 = event(at(1), 'co2-changed')
  const pH = (hour: number): number => (hour < 1 ? 7.4 : Math.max(6.8, 7.4 - (hour - 1) * 0.4))
  expect(said({ hours: 4, pH, events: [co2] })[0]).toMatch(/^is-it-co2: CO2 was changed lately/)
})
