import { signal } from '@preact/signals'
import type { BoardView, TabletInvite, TabletView } from '../feed/house.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

/** Devices that may come in; null before they were asked for. */
export const tablets = signal<readonly TabletView[] | null>(null)
export const boards = signal<readonly BoardView[] | null>(null)

export async function loadDevices(): Promise<void> {
  const [screens, publishers] = await Promise.all([calls.tablets(), calls.boards()])
  if (screens.kind === 'done') tablets.value = screens.value
  if (publishers.kind === 'done') boards.value = publishers.value
}

/** A code for one more screen. */
export type Invite = TabletInvite
type Refused = Readonly<{ kind: 'refused'; words: string }>

export async function makeBoard(
  ask: Readonly<{ name: string; tankIds: readonly string[] }>
): Promise<Readonly<{ kind: 'made'; name: string; password: string }> | Refused> {
  const answer = await calls.addBoard(ask)
  if (answer.kind === 'done') {
    void loadDevices()
    return { kind: 'made', name: answer.value.name, password: answer.value.password }
  }
  return { kind: 'refused', words: faultOf(answer) ?? '' }
}

export async function inviteTablet(
  ask: Readonly<{ label: string; role: 'wall' | 'helper' }>
): Promise<Readonly<{ kind: 'invited'; invite: Invite }> | Refused> {
  const answer = await calls.inviteTablet(ask)
  if (answer.kind === 'done') return { kind: 'invited', invite: answer.value }
  return { kind: 'refused', words: faultOf(answer) ?? '' }
}

export async function endTablet(id: string): Promise<string | null> {
  const fault = faultOf(await calls.endTablet(id))
  await loadDevices()
  return fault
}

export async function endBoard(id: string): Promise<string | null> {
  const fault = faultOf(await calls.endBoard(id))
  await loadDevices()
  return fault
}
