import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank } from './a-tank-week.ts'

/** What a record would have kept of one watch. */
export type Kept = Readonly<{
  readings: ReadingToStore[]
  slots: Map<string, AlarmSlot>
  changes: AlarmChange[]
}>
export const nothingKept = (): Kept => ({ readings: [], slots: new Map(), changes: [] })

type Given = Pick<Parameters<typeof makeTankWatch>[0], 'newId' | 'tests' | 'lastMinuteMs' | 'lostBoards'>

/** Starts a watch that knows only what was kept; its alarms are written down and read again. */
export const openKept = ({ readings, slots, changes }: Kept, given: Given): TankWatch =>
  makeTankWatch({
    ...given,
    tankId: 'kitchen',
    profile: fishTank,
    readings,
    slots: JSON.parse(JSON.stringify([...slots.values()])) as AlarmSlot[],
    changes
  })

export function keep(
  kept: Kept,
  outcome: Readonly<{ changes: readonly AlarmChange[]; slots: readonly AlarmSlot[] }>
): void {
  kept.changes.push(...outcome.changes)
  for (const slot of outcome.slots) kept.slots.set(`${slot.kind} ${slot.subject}`, slot)
}
