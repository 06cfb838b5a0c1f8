import { signal } from '@preact/signals'
import type { AssignmentBody, HeardView } from '../../services/contract/heard-entry.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

/** Topics outside our scheme, and what was made of them; null before they were asked for. */
export const heard = signal<HeardView | null>(null)
export const heardFault = signal<string | null>(null)

/** Asks what was heard. The asking itself makes the watch go on listening. */
export async function loadHeard(): Promise<void> {
  const answer = await calls.heard()
  if (answer.kind === 'done') heard.value = answer.value
  heardFault.value = faultOf(answer)
}

export async function assignTopic(body: AssignmentBody): Promise<string | null> {
  const fault = faultOf(await calls.assign(body))
  await loadHeard()
  return fault
}

export async function unassignTopic(id: string): Promise<string | null> {
  const fault = faultOf(await calls.unassign(id))
  await loadHeard()
  return fault
}
