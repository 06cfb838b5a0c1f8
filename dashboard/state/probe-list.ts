import { signal } from '@preact/signals'
import type { RefusedView } from '../../services/contract/house-entry.ts'
import type { ProbeView } from '../feed/house.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

export const probeList = signal<readonly ProbeView[] | null>(null)
export const refused = signal<RefusedView | null>(null)

/** What boards say, and what was not let in. */
export async function loadProbes(tankId: string | null): Promise<void> {
  const [probes, turnedAway] = await Promise.all([
    tankId === null ? Promise.resolve(null) : calls.probes(tankId),
    calls.refused()
  ])
  if (probes?.kind === 'done') probeList.value = probes.value
  if (turnedAway.kind === 'done') refused.value = turnedAway.value
}

export async function renameProbe(id: string, name: string): Promise<string | null> {
  return faultOf(await calls.renameProbe(id, name))
}
