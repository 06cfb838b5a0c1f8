import { signal } from '@preact/signals'
import type { UpkeepView } from '../../services/contract/upkeep-view.ts'
import { makeClientKey } from '../feed/outbox.ts'
import type { FeedView } from '../feed/told.ts'
import { say } from '../words/say.ts'
import { faultOf } from './door.ts'
import { ownEntries, withdrawEntry } from './entries.ts'
import { calls } from './house.ts'
import { showToast } from './toast.ts'

/** What is to be done, soonest first; null before it was asked for. */
export const upkeepList = signal<readonly UpkeepView[] | null>(null)
export const feeds = signal<readonly FeedView[] | null>(null)

export async function loadUpkeep(tankId: string): Promise<void> {
  const answer = await calls.upkeep(tankId)
  if (answer.kind === 'done') upkeepList.value = answer.value
}

/** Says that a piece of upkeep is done, and offers to take it back. */
export async function doUpkeep(tankId: string, task: UpkeepView): Promise<void> {
  const answer = await calls.doUpkeep(tankId, task.task, makeClientKey())
  const label = task.title
  if (answer.kind !== 'done') return showToast({ words: faultOf(answer) ?? '', isBad: true })
  const { id } = answer.value
  showToast({
    words: say.upkeep.done(label),
    undo: () => void withdrawEntry({ tankId, kind: 'events', label }, id)
  })
  ownEntries.value += 1
}

export async function loadFeeds(): Promise<void> {
  const answer = await calls.feeds()
  if (answer.kind === 'done') feeds.value = answer.value
}

/** A new address for a calendar program; its key is shown this once. */
export async function makeFeed(
  ask: Readonly<{ tankId: string; label: string }>
): Promise<Readonly<{ kind: 'made'; path: string } | { kind: 'refused'; words: string }>> {
  const answer = await calls.makeFeed(ask)
  await loadFeeds()
  if (answer.kind === 'done') return { kind: 'made', path: answer.value.path }
  return { kind: 'refused', words: faultOf(answer) ?? '' }
}

export async function endFeed(id: string): Promise<string | null> {
  const fault = faultOf(await calls.endFeed(id))
  await loadFeeds()
  return fault
}
