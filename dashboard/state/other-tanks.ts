import { computed, signal } from '@preact/signals'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import { calls, tanks } from './house.ts'

/** A tank of the house that is not the one looked at. */
export type OtherTank = Readonly<{ id: string; name: string; now: NowView }>

/** An alarm there is heard here so much later at most. */
const everyMs = 10_000

export const otherTanks = signal<readonly OtherTank[]>([])

export const mustBeHeard = ({ state }: Pick<AlarmView, 'state'>): boolean =>
  state === 'unacknowledged' || state === 'latched-unacknowledged'

/** Alarms of the other tanks that must be heard, with the name of their tank before their words. */
export const alarmsElsewhere = computed<readonly AlarmView[]>(() =>
  otherTanks.value.flatMap(({ name, now }) =>
    now.alarms
      .filter(mustBeHeard)
      .map((alarm) => ({ ...alarm, words: { ...alarm.words, what: `${name}: ${alarm.words.what}` } }))
  )
)

/** Keeps the present of every tank but one: a single wall speaks for all of them. */
export function watchOthers(shownId: string): () => void {
  let isClosed = false
  async function ask(): Promise<void> {
    const others = tanks.value.filter(({ id }) => id !== shownId)
    const found = await Promise.all(
      others.map(async ({ id, profile }) => {
        const answer = await calls.now(id)
        if (answer.kind === 'done') return [{ id, name: profile.name, now: answer.value }]
        return otherTanks.value.filter((known) => known.id === id)
      })
    )
    if (!isClosed) otherTanks.value = found.flat()
  }
  void ask()
  const timer = setInterval(() => void ask(), everyMs)
  return () => {
    isClosed = true
    clearInterval(timer)
    otherTanks.value = []
  }
}
