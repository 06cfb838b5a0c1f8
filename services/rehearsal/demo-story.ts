import type { EventData, EventKind } from '../tank/event.ts'
import type { Happening } from './happening.ts'
import type { KitQuantity } from './kit.ts'

/** A moment of the story: what is written down, what is tested, and what happens beyond what is written. */
export type StoryMoment = Readonly<{
  day: number
  /** Local time of day, `HH:MM`. */
  time: string
  event?: Readonly<{ kind: EventKind; data?: EventData; note?: string }>
  test?: readonly KitQuantity[]
  testNote?: string
  /** Stands in for what the entry alone would do to the water. */
  happening?: Happening
}>

/** The day the first fish move in. */
export const fishDay = 17
/** The day the story has reached when the watch is opened. */
export const todayIs = 21

/** Filled and warmed before the boards came. */
export const filledDay = -2
export const filledTime = '16:30'

const both: readonly KitQuantity[] = ['ammonia', 'nitrite']
const all: readonly KitQuantity[] = ['ammonia', 'nitrite', 'nitrate', 'ph', 'kh']
const dose = (day: number, time: string, grams: number, note: string): StoryMoment => ({
  day,
  time,
  event: { kind: 'dosed', data: { substance: 'ammonium-chloride', amount: grams, unit: 'g' }, note }
})
const fed = (day: number, time: string, pinches: number, note?: string): StoryMoment => ({
  day,
  time,
  event: { kind: 'fed', data: { pinches }, ...(note === undefined ? {} : { note }) }
})
const said = (day: number, time: string, note: string): StoryMoment => ({
  day,
  time,
  event: { kind: 'note', note }
})

const cycle: readonly StoryMoment[] = [
  {
    day: filledDay,
    time: filledTime,
    event: {
      kind: 'filled',
      note: 'Planted, filled, heater and filter running. The filter holds half a sponge from a friend’s old tank.'
    }
  },
  { day: 0, time: '08:50', test: all, testNote: 'Before anything was added.' },
  dose(0, '09:20', 0.73, 'First food for the filter: about 2 mg/L as nitrogen.'),
  { day: 0, time: '11:10', test: ['ammonia'] },
  ...evenings(1, 2, both),
  { day: 3, time: '18:40', test: all },
  ...evenings(4, 6, both),
  dose(6, '19:05', 0.37, 'Ammonia was nearly gone: half of the first dose again.'),
  { day: 7, time: '18:40', test: all },
  ...evenings(8, 10, both),
  { day: 11, time: '18:40', test: all },
  dose(11, '19:00', 0.37, 'Fed the filter again so that it does not starve.'),
  { day: 12, time: '18:40', test: both },
  dose(12, '19:00', 0.37, 'And again.'),
  { day: 13, time: '18:40', test: both },
  { day: 14, time: '18:40', test: all },
  {
    day: 14,
    time: '18:55',
    event: { kind: 'topped-up', data: { litres: 1.5 }, note: 'Soft water for what had gone into the air.' }
  },
  dose(
    14,
    '19:10',
    0.22,
    'Proof, several days’ worth of what the fish will give: will it all be gone by tomorrow evening?'
  ),
  { day: 15, time: '19:10', test: both, testNote: '24 hours after the dose.' },
  dose(15, '19:20', 0.22, 'Proof again, to be sure.'),
  { day: 16, time: '19:20', test: all, testNote: '24 hours after the second dose.' }
]

const fishMoveIn: readonly StoryMoment[] = [
  {
    day: fishDay,
    time: '10:40',
    event: {
      kind: 'maintenance-started',
      data: { minutes: 60 },
      note: 'Heater unplugged before hands go in.'
    }
  },
  {
    day: fishDay,
    time: '10:50',
    event: { kind: 'water-changed', data: { fraction: 0.3, tapTempC: 23, conditioner: true } }
  },
  {
    day: fishDay,
    time: '11:25',
    event: { kind: 'maintenance-ended', note: 'Heater plugged in, filter running, lid on.' }
  },
  { day: fishDay, time: '18:20', test: all },
  {
    day: fishDay,
    time: '19:15',
    event: {
      kind: 'fish-added',
      data: { speciesId: 'puntius-titteya', count: 8, sizeCm: 3 },
      note: 'Bag floated for half an hour, lights off, netted over, bag water thrown away.'
    }
  },
  { day: 18, time: '07:40', test: both },
  fed(18, '08:10', 1),
  { day: 18, time: '19:00', test: both },
  fed(18, '19:20', 1, 'All eight came for it.'),
  { day: 19, time: '07:40', test: both },
  {
    ...fed(19, '12:30', 12, 'A visitor fed them: far too much. Netted out what lay on the bottom.'),
    happening: { kind: 'fed', grams: 0.75, eatenFrac: 0.6 }
  },
  { day: 19, time: '19:00', test: both, testNote: 'No supper tonight.' },
  { day: 20, time: '07:40', test: all, testNote: 'A trace of ammonia from yesterday.' },
  { day: 20, time: '12:40', test: ['ammonia'] },
  { day: 20, time: '19:00', test: both },
  fed(20, '19:20', 1),
  said(
    20,
    '20:00',
    'The bronze corydoras wait at the shop. They come when ammonia and nitrite have stayed at nothing for two weeks.'
  ),
  { day: todayIs, time: '07:40', test: both },
  fed(todayIs, '08:10', 1),
  { day: todayIs, time: '19:00', test: both },
  fed(todayIs, '19:20', 1)
]

/** All moments in the order of time. Those of today that are still to come belong to the future. */
export const demoStory: readonly StoryMoment[] = [...cycle, ...fishMoveIn]

function evenings(from: number, to: number, test: readonly KitQuantity[]): StoryMoment[] {
  return Array.from({ length: to - from + 1 }, (_, index) => ({ day: from + index, time: '18:40', test }))
}
