import type { AlarmState } from '../tank/alarm-names.ts'

export type Transition = Readonly<{ from: AlarmState; to: AlarmState; on: string }>

const shelvable = [
  'unacknowledged',
  'acknowledged',
  'returned-unacknowledged',
  'latched-unacknowledged',
  'latched-acknowledged'
] as const satisfies readonly AlarmState[]
const inService = [...shelvable, 'normal', 'shelved', 'suppressed'] as const satisfies readonly AlarmState[]

/**
 * Every change of state an alarm can make; there is no other. A rise in priority is no change of state.
 * Source: ANSI/ISA-18.2-2016 (letters A to I), with our own choice for suppression: only what would ring or rings
 * unacknowledged is taken into it.
 */
export const transitions: readonly Transition[] = [
  { from: 'normal', to: 'unacknowledged', on: 'the condition outlasts its delay' },
  { from: 'normal', to: 'suppressed', on: 'it would ring, but something explains it' },
  { from: 'unacknowledged', to: 'acknowledged', on: 'a person acknowledges, or has done what it asks' },
  { from: 'unacknowledged', to: 'returned-unacknowledged', on: 'the condition ends' },
  { from: 'unacknowledged', to: 'latched-unacknowledged', on: 'the condition ends, a latch holds it' },
  { from: 'unacknowledged', to: 'suppressed', on: 'something explains it' },
  { from: 'acknowledged', to: 'normal', on: 'the condition ends' },
  { from: 'acknowledged', to: 'latched-acknowledged', on: 'the condition ends, a latch holds it' },
  { from: 'acknowledged', to: 'unacknowledged', on: 'it rested long enough, or grew worse' },
  { from: 'returned-unacknowledged', to: 'normal', on: 'a person acknowledges' },
  { from: 'returned-unacknowledged', to: 'unacknowledged', on: 'the condition is back' },
  { from: 'latched-unacknowledged', to: 'latched-acknowledged', on: 'a person acknowledges' },
  { from: 'latched-unacknowledged', to: 'unacknowledged', on: 'the condition is back' },
  { from: 'latched-acknowledged', to: 'normal', on: 'a person resets it after looking' },
  { from: 'latched-acknowledged', to: 'unacknowledged', on: 'the condition is back' },
  ...shelvable.map((from) => ({ from, to: 'shelved', on: 'a person shelves it for a while' }) as const),
  { from: 'shelved', to: 'unacknowledged', on: 'the shelf ends, or it grew worse, and the condition stands' },
  { from: 'shelved', to: 'normal', on: 'the shelf ends and the condition has gone' },
  {
    from: 'shelved',
    to: 'latched-unacknowledged',
    on: 'the shelf ends, the condition has gone, a latch holds it'
  },
  { from: 'suppressed', to: 'unacknowledged', on: 'nothing explains it any more and the condition stands' },
  { from: 'suppressed', to: 'normal', on: 'the condition has gone' },
  { from: 'suppressed', to: 'latched-unacknowledged', on: 'the condition has gone, a latch holds it' },
  ...inService.map((from) => ({ from, to: 'out-of-service', on: 'its probe is taken away' }) as const),
  { from: 'out-of-service', to: 'normal', on: 'its probe is back; the condition is judged anew' }
]

const legal = new Set(transitions.map(({ from, to }) => `${from}>${to}`))
/** Whether an alarm can go from one state to another; staying where it is always is. */
export const isLegal = (from: AlarmState, to: AlarmState): boolean =>
  from === to || legal.has(`${from}>${to}`)
