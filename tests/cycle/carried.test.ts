import { describe, expect, test } from 'vitest'
import { carriedAmmonia, carriedNitrite } from '../../services/cycle/carried.ts'
import { makeTankFacts } from '../../services/cycle/tank-facts.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import { event, kitTest, profile, stocked } from '../tank/a-profile.ts'

const hourMs = 3_600_000
const at = (hours: number): number => 1_790_000_000_000 + hours * hourMs
const tested = (hours: number, ammonia: number): ManualTest => kitTest(at(hours), { ammonia })
const change = (hours: number, data: TankEvent['data'] = { fraction: 0.3 }): TankEvent =>
  event(at(hours), 'water-changed', data)

type Case = Readonly<{
  name: string
  profile?: TankProfile
  tests: readonly ManualTest[]
  events?: readonly TankEvent[]
  /** Asked so many hours after the start. */
  hours: number
  value: number | null
  reason: string
}>

/** A tank of 100 L without fish whose cycle is not proven, unless said otherwise; all in mg N/L. */
const cases: readonly Case[] = [
  { name: 'never tested', tests: [], hours: 1, value: null, reason: 'no-ammonia-test' },
  { name: 'just tested', tests: [tested(0, 2)], hours: 0, value: 2, reason: 'from-test' },
  {
    name: 'tested yesterday, nothing since',
    tests: [tested(0, 2)],
    hours: 24,
    value: 2,
    reason: 'from-test'
  },
  { name: 'too old after two days', tests: [tested(0, 2)], hours: 49, value: null, reason: 'too-old' },
  {
    name: 'in a proven tank a test stands for seven days',
    profile: stocked,
    tests: [tested(0, 0.1)],
    hours: 7 * 24 - 1,
    value: 0.1,
    reason: 'from-test'
  },
  {
    name: 'in a proven tank too old after seven days',
    profile: stocked,
    tests: [tested(0, 0.1)],
    hours: 7 * 24 + 1,
    value: null,
    reason: 'too-old'
  },
  {
    // Source: C' = C(1-f) + f Cs; 4.0 mg/L, 30 %, tap 0.5 gives 2.95.
    name: 'a change with ammonia in the tap',
    profile: { ...profile, tap: { ammoniaMgLAsN: 0.5 } },
    tests: [tested(0, 4)],
    events: [change(1)],
    hours: 2,
    value: 2.95,
    reason: 'carried-from-test'
  },
  {
    // Source: two changes of 25 % leave 0.5625 of what was there.
    name: 'two changes of a quarter are not one of a half',
    tests: [tested(0, 4)],
    events: [change(1, { fraction: 0.25 }), change(2, { litres: 25 })],
    hours: 3,
    value: 2.25,
    reason: 'carried-from-test'
  },
  {
    // Source: 30 % with 2.5 mg/L chloramine as Cl2 adds 0.1482 mg N/L (0.1975 mg N per mg Cl2, molar masses).
    name: 'chloramine of the tap sets its ammonia free',
    profile: { ...profile, tap: { disinfectant: 'chloramine' } },
    tests: [tested(0, 0)],
    events: [change(1)],
    hours: 2,
    value: 0.1482,
    reason: 'carried-from-test'
  },
  {
    // Source: 3.8189 mg NH4Cl per mg N (molar masses): 0.7638 g in 100 L is 2 mg N/L.
    name: 'a weighed dose of ammonium chloride adds',
    tests: [tested(0, 1)],
    events: [event(at(1), 'dosed', { substance: 'ammonium chloride', amount: 0.7638, unit: 'g' })],
    hours: 2,
    value: 3,
    reason: 'carried-from-test'
  },
  {
    name: 'a dose told in mg/L adds in the basis of the kit (as NH3: 1.21589 mg hold 1 mg N)',
    profile: { ...profile, kit: { ...profile.kit, ammoniaBasis: 'NH3' } },
    tests: [kitTest(at(0), { ammonia: 1.21589 })],
    events: [event(at(1), 'dosed', { substance: 'ammonia', amount: 2.43178, unit: 'mg/L' })],
    hours: 2,
    value: 3,
    reason: 'carried-from-test'
  },
  {
    name: 'a solution of unknown strength leaves nothing to say',
    tests: [tested(0, 1)],
    events: [event(at(1), 'dosed', { substance: 'household ammonia', amount: 5, unit: 'mL' })],
    hours: 2,
    value: null,
    reason: 'dose-of-unknown-strength'
  },
  {
    name: 'what is no ammonia adds none',
    tests: [tested(0, 1)],
    events: [event(at(1), 'dosed', { substance: 'plant fertiliser', amount: 5, unit: 'mL' })],
    hours: 2,
    value: 1,
    reason: 'from-test'
  },
  {
    name: 'after a binding conditioner nobody can tell',
    tests: [tested(0, 1)],
    events: [change(1, { fraction: 0.3, conditioner: 'binds ammonia' })],
    hours: 2,
    value: null,
    reason: 'bound-cannot-tell'
  },
  {
    name: 'a test soon after a binder shows bound ammonia too',
    tests: [tested(2, 1)],
    events: [event(at(1), 'conditioner-added', { substance: 'ammonia binder' })],
    hours: 3,
    value: null,
    reason: 'bound-cannot-tell'
  },
  {
    name: 'a test two days after a binder counts again',
    tests: [tested(50, 1)],
    events: [event(at(1), 'conditioner-added', { substance: 'ammonia binder' })],
    hours: 51,
    value: 1,
    reason: 'from-test'
  },
  {
    name: 'a plain dechlorinator binds nothing',
    tests: [tested(0, 1)],
    events: [change(1, { fraction: 0.5, conditioner: 'sodium thiosulfate' })],
    hours: 2,
    value: 0.5,
    reason: 'carried-from-test'
  },
  {
    name: 'between two tests with nothing in between the straight line holds',
    tests: [tested(0, 1), tested(24, 2)],
    hours: 6,
    value: 1.25,
    reason: 'between-two-tests'
  },
  {
    name: 'between two tests with a change in between there is no line',
    tests: [tested(0, 1), tested(24, 0.2)],
    events: [change(12, { fraction: 0.5 })],
    hours: 6,
    value: 1,
    reason: 'from-test'
  },
  {
    name: 'topping up brings the tap’s ammonia and takes none away',
    profile: { ...profile, tap: { ammoniaMgLAsN: 0.5 } },
    tests: [tested(0, 1)],
    events: [event(at(1), 'topped-up', { litres: 10 })],
    hours: 2,
    value: 1.05,
    reason: 'carried-from-test'
  }
]

describe('total ammonia between tests', () => {
  test.each(cases)('$name', (story) => {
    const facts = makeTankFacts({
      profile: story.profile ?? profile,
      tests: story.tests,
      events: story.events ?? []
    })
    const carried = carriedAmmonia(facts, at(story.hours))
    expect(carried.reason).toBe(story.reason)
    if (story.value === null) expect(carried.value).toBeNull()
    else {
      expect(carried.value).toBeCloseTo(story.value, 3)
      expect(carried.low).toBeLessThanOrEqual(carried.value ?? 0)
      expect(carried.high).toBeGreaterThanOrEqual(carried.value ?? 0)
    }
  })
})

describe('the upper bound of total ammonia', () => {
  const newTank: TankProfile = {
    ...profile,
    species: [{ id: 'puntius-titteya', count: 6 }],
    start: { answer: 'fish-new', atMs: at(-24) }
  }
  const highAt = (
    given: Readonly<{ profile?: TankProfile; events?: readonly TankEvent[]; hours: number }>
  ) => {
    const facts = makeTankFacts({
      profile: given.profile ?? newTank,
      tests: [tested(0, 0.25)],
      events: given.events ?? []
    })
    return carriedAmmonia(facts, at(given.hours)).high ?? Number.NaN
  }

  test('rises with the fish of a new tank: six barbs of 2.5 g, 1 mg N a gram and day, in 100 L', () => {
    // Source: 1032 mg N/kg/d of small fed fish (seabream study); 0.02 g/cm3 x (5 cm)^3 = 2.5 g.
    expect(highAt({ hours: 24 }) - highAt({ hours: 0 })).toBeCloseTo(0.15, 6)
  })
  test('rises with what was fed: all nitrogen of 2 g of food with 45 % protein in 100 L', () => {
    // Source: upper bound F x PC x 0.16; 0.5 g gives 36 mg N, so 2 g give 144.
    const fed = [event(at(1), 'fed', { grams: 2 })]
    expect(highAt({ events: fed, hours: 2 }) - highAt({ hours: 0 })).toBeCloseTo(1.44, 6)
  })
  test('stays in a proven tank, whose filter carries its fish', () => {
    expect(highAt({ profile: stocked, hours: 48 })).toBeCloseTo(highAt({ profile: stocked, hours: 0 }), 9)
  })
  test('rises with fish that are new in a proven tank', () => {
    const added = [event(at(0), 'fish-added', { speciesId: 'puntius-titteya', count: 6 })]
    const one = [event(at(1), 'fish-added', { speciesId: 'puntius-titteya', count: 6 })]
    expect(highAt({ profile: stocked, events: one, hours: 25 })).toBeGreaterThan(
      highAt({ profile: stocked, hours: 25 }) + 0.14
    )
    expect(highAt({ profile: stocked, events: added, hours: 25 })).toBeCloseTo(
      highAt({ profile: stocked, hours: 25 }),
      9
    )
  })
})

describe('nitrite between tests', () => {
  const facts = makeTankFacts({
    profile,
    tests: [kitTest(at(0), { nitrite: 1 })],
    events: [change(1, { fraction: 0.4 })]
  })
  test('is thinned by a change', () => expect(carriedNitrite(facts, at(2)).value).toBeCloseTo(0.6, 9))
  test('is unknown after two days', () => {
    expect(carriedNitrite(facts, at(49))).toMatchObject({ value: null, reason: 'too-old' })
  })
})
