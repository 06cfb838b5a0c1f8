import { describe, expect, test } from 'vitest'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import { standingAtMs, standingsOf } from '../../services/tank/stage.ts'
import { barbs, event, kitTest, profile, stocked } from './a-profile.ts'

const dayMs = 86_400_000
const day = (days: number): number => 1_790_000_000_000 + days * dayMs

type Story = Readonly<{
  name: string
  profile?: TankProfile
  events?: readonly TankEvent[]
  tests?: readonly ManualTest[]
  /** Stage at so many days. */
  stages: Readonly<Record<number, string>>
}>
const started = (
  answer: 'dry' | 'filled' | 'fish-new' | 'fish-established',
  more: Partial<TankProfile> = {}
) => ({
  ...profile,
  ...more,
  start: { answer, atMs: day(0) }
})
const clear = (days: number): ManualTest => kitTest(day(days), { ammonia: 0, nitrite: 0 })
const dose = (days: number): TankEvent =>
  event(day(days), 'dosed', { substance: 'ammonium chloride', amount: 0.8, unit: 'g' })
const fish = (days: number): TankEvent => event(day(days), 'fish-added', { speciesId: barbs.id, count: 6 })

const stories: readonly Story[] = [
  { name: 'no word of the start and no species: filled', stages: { 0: 'filled', 100: 'filled' } },
  { name: 'no word of the start but species: running well', profile: stocked, stages: { 0: 'stocked' } },
  {
    name: 'dry until the tank is filled',
    profile: started('dry'),
    events: [event(day(2), 'filled')],
    stages: { 1: 'dry', 3: 'filled' }
  },
  {
    name: 'an ammonia dose starts the cycle without fish',
    profile: started('filled'),
    events: [dose(1)],
    stages: { 0: 'filled', 2: 'fishless-cycling' }
  },
  {
    name: 'ammonia or nitrite above zero starts it too',
    profile: started('filled'),
    tests: [kitTest(day(1), { ammonia: 0, nitrite: 0 }), kitTest(day(2), { ammonia: 0, nitrite: 0.25 })],
    stages: { 1.5: 'filled', 3: 'fishless-cycling' }
  },
  {
    name: 'below the first step is not above zero',
    profile: started('filled'),
    tests: [kitTest(day(1), { ammonia: 0.25 }, { atMost: true })],
    stages: { 2: 'filled' }
  },
  {
    name: 'first fish make a new tank of it, whatever was before',
    profile: started('dry'),
    events: [fish(3)],
    stages: { 1: 'dry', 4: 'stocked-new', 100: 'stocked-new' }
  },
  {
    name: 'sixty days and a proven cycle make it a running tank',
    profile: started('fish-new', { species: [barbs] }),
    tests: [clear(30), clear(38), clear(46)],
    stages: { 1: 'stocked-new', 59: 'stocked-new', 61: 'stocked' }
  },
  {
    name: 'sixty days without proof do not',
    profile: started('fish-new', { species: [barbs] }),
    tests: [clear(30), kitTest(day(38), { ammonia: 0.5, nitrite: 0 }), clear(46)],
    stages: { 61: 'stocked-new', 200: 'stocked-new' }
  },
  {
    name: 'proof that comes after the sixty days counts from then on',
    profile: started('fish-new', { species: [barbs] }),
    tests: [clear(70), clear(78), clear(85)],
    stages: { 84: 'stocked-new', 86: 'stocked' }
  },
  {
    name: 'a fishless cycle proven twice, then fish, is running sixty days later',
    profile: started('filled'),
    events: [dose(20), dose(22), fish(25)],
    tests: [clear(21), clear(23)],
    stages: { 23.5: 'fishless-cycling', 26: 'stocked-new', 84: 'stocked-new', 86: 'stocked' }
  },
  {
    name: 'when the last fish leaves, the tank is filled again',
    profile: started('fish-established', { species: [barbs] }),
    events: [
      event(day(5), 'fish-died', { speciesId: barbs.id, count: 3 }),
      event(day(6), 'fish-removed', { speciesId: barbs.id, count: 5 })
    ],
    stages: { 1: 'stocked', 5.5: 'stocked', 7: 'filled' }
  }
]

describe('stage', () => {
  test.each(stories)('$name', (story) => {
    const standings = standingsOf({
      profile: story.profile ?? profile,
      events: story.events ?? [],
      tests: story.tests ?? []
    })
    const seen = Object.fromEntries(
      Object.keys(story.stages).map((days) => [days, standingAtMs(standings, day(Number(days))).stage])
    )
    expect(seen).toEqual(story.stages)
  })
})

describe('livestock', () => {
  test('starts with the fish of the profile and follows what was added, died and left', () => {
    const standings = standingsOf({
      profile: stocked,
      tests: [],
      events: [
        event(day(1), 'fish-added', { speciesId: 'corydoras-aeneus', count: 6 }),
        event(day(2), 'fish-died', { speciesId: barbs.id, count: 1 })
      ]
    })
    expect(standingAtMs(standings, day(0)).livestock).toEqual([{ speciesId: barbs.id, count: 8 }])
    expect(standingAtMs(standings, day(3)).livestock).toEqual([
      { speciesId: barbs.id, count: 7 },
      { speciesId: 'corydoras-aeneus', count: 6 }
    ])
  })

  test('fish that were spoken of but not named are fish all the same', () => {
    const standings = standingsOf({ profile: started('fish-new'), tests: [], events: [] })
    expect(standingAtMs(standings, day(1))).toMatchObject({
      hasFish: true,
      livestock: [],
      stage: 'stocked-new'
    })
  })

  test('species beside "no fish yet" are a wish, not fish', () => {
    const standings = standingsOf({ profile: started('filled', { species: [barbs] }), tests: [], events: [] })
    expect(standingAtMs(standings, day(1)).hasFish).toBe(false)
  })

  test('proof of the cycle is lost when the filter media are replaced', () => {
    const standings = standingsOf({
      profile: stocked,
      tests: [],
      events: [event(day(9), 'filter-cleaned', { how: 'media-replaced' })]
    })
    expect(standingAtMs(standings, day(8)).cycleProven).toBe(true)
    expect(standingAtMs(standings, day(10)).cycleProven).toBe(false)
  })
})
