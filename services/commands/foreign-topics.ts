import { type HeardTopic, makeHeardTopics } from '../intake/heard-topics.ts'
import type { Assignment } from '../tank/assignment.ts'
import type { TankRecord } from '../tank/record.ts'

/** What the house knows of topics outside its own scheme: which are assigned, and which were heard. */
export type ForeignTopics = Readonly<{
  of: (topic: string) => readonly Assignment[]
  assignments: () => readonly Assignment[]
  hear: (message: Readonly<{ topic: string; payload: Uint8Array }>) => void
  /** Goes on listening for some minutes and answers what was heard. */
  listen: () => Readonly<{ untilMs: number; topics: readonly HeardTopic[]; more: number }>
  isListening: () => boolean
  assign: (assignment: Assignment) => Promise<'added' | 'taken'>
  unassign: (id: string) => Promise<boolean>
  /** What was assigned to a tank that is gone is heard no more. */
  tankRemoved: (tankId: string) => void
  /** Told when the assigned topics, or whether we listen to all, may have changed. */
  onChange: (changed: () => void) => void
}>

export async function openForeignTopics(
  given: Readonly<{
    record: Pick<TankRecord, 'assignments' | 'addAssignment' | 'removeAssignment' | 'tanks'>
    clock: () => number
  }>
): Promise<ForeignTopics> {
  const { record } = given
  const living = new Set((await record.tanks()).map(({ id }) => id))
  const heard = makeHeardTopics({ nowMs: given.clock })
  let byTopic = groupByTopic((await record.assignments()).filter(({ tankId }) => living.has(tankId)))
  let changed = (): void => undefined
  const all = (): readonly Assignment[] => [...byTopic.values()].flat()
  const take = (assignments: readonly Assignment[]): void => {
    byTopic = groupByTopic(assignments)
    changed()
  }

  return {
    of: (topic) => byTopic.get(topic) ?? [],
    assignments: all,
    hear: heard.hear,
    listen() {
      const untilMs = heard.listen()
      changed()
      return { untilMs, ...heard.heard() }
    },
    isListening: heard.isListening,
    async assign(assignment) {
      const outcome = await record.addAssignment(assignment)
      if (outcome === 'added') take([...all(), assignment])
      return outcome
    },
    async unassign(id) {
      const removed = await record.removeAssignment(id)
      if (removed) take(all().filter((one) => one.id !== id))
      return removed
    },
    tankRemoved: (tankId) => take(all().filter((one) => one.tankId !== tankId)),
    onChange: (listener) => {
      changed = listener
    }
  }
}

function groupByTopic(assignments: readonly Assignment[]): Map<string, readonly Assignment[]> {
  const grouped = new Map<string, readonly Assignment[]>()
  for (const one of assignments) grouped.set(one.topic, [...(grouped.get(one.topic) ?? []), one])
  return grouped
}
