import { signal } from '@preact/signals'
import type { RefusedView } from '../../services/contract/house-entry.ts'
import type { ProbeDetail } from '../../services/contract/probe-entry.ts'
import type { ProbeChange, ProbeView } from '../feed/probe-calls.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'

export const probeList = signal<readonly ProbeView[] | null>(null)
export const refused = signal<RefusedView | null>(null)
/** How far each probe of the tank can be trusted, by its id. */
export const probeDetails = signal<Readonly<Record<string, ProbeDetail>>>({})
/** Probes that were asked for and are not there. */
export const lostProbe = signal<string | null>(null)

/** What boards say, and what was not let in. */
export async function loadProbes(tankId: string | null): Promise<void> {
  const [probes, turnedAway] = await Promise.all([
    tankId === null ? Promise.resolve(null) : calls.probes(tankId),
    calls.refused()
  ])
  if (probes?.kind === 'done') {
    probeList.value = probes.value
    await Promise.all(probes.value.map((probe) => loadProbe(probe.id)))
  }
  if (turnedAway.kind === 'done') refused.value = turnedAway.value
}

/** One probe in full. */
export async function loadProbe(id: string): Promise<void> {
  const answer = await calls.probe(id)
  if (answer.kind === 'done') keep(answer.value)
  else if (answer.kind === 'refused' && answer.problem.status === 404) lostProbe.value = id
}

function keep(detail: ProbeDetail): void {
  probeDetails.value = { ...probeDetails.value, [detail.id]: detail }
}

/** Another name, another leader, other limits. Answers a refusal in words. */
export async function changeProbe(id: string, change: ProbeChange): Promise<string | null> {
  const answer = await calls.changeProbe(id, change)
  if (answer.kind === 'done') keep(answer.value)
  return faultOf(answer)
}
