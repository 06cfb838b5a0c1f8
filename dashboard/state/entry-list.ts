import { signal } from '@preact/signals'
import type { EventView } from '../../services/contract/event-entry.ts'
import type { TestView } from '../../services/contract/test-entry.ts'
import type { Answer } from '../feed/client.ts'
import { say } from '../words/say.ts'
import { faultOf } from './door.ts'
import { ownEntries } from './entries.ts'
import { calls } from './house.ts'
import { showToast } from './toast.ts'

/** What was typed in before, newest first; null before it was asked for. */
export const testList = signal<readonly TestView[] | null>(null)
export const eventList = signal<readonly EventView[] | null>(null)

export async function loadTests(tankId: string): Promise<void> {
  const answer = await calls.tests(tankId)
  if (answer.kind === 'done') testList.value = answer.value
}

export async function loadEvents(tankId: string): Promise<void> {
  const answer = await calls.events(tankId)
  if (answer.kind === 'done') eventList.value = answer.value
}

/** Amends a stored event; what it said before is kept by the house. Answers a refusal in words. */
export async function amendEvent(
  ask: Readonly<{ tankId: string; eventId: string; change: unknown; label: string }>
): Promise<string | null> {
  return told(await calls.changeEvent(ask.tankId, ask.eventId, ask.change), ask.label)
}

/** Amends a stored test; what it said before is kept by the house. Answers a refusal in words. */
export async function amendTest(
  tankId: string,
  testId: string,
  change: unknown,
  label: string
): Promise<string | null> {
  return told(await calls.changeTest(tankId, testId, change), label)
}

function told(answer: Answer<unknown>, label: string): string | null {
  const fault = faultOf(answer)
  if (fault !== null) return fault
  ownEntries.value += 1
  showToast({ words: say.entry.saved(label) })
  return null
}
