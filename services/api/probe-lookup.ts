import { HouseError } from '../errors.ts'
import type { ProbeNotes } from '../tank/probe-notes.ts'
import type { Probe, StoredTank, TankRecord } from '../tank/record.ts'

/** A probe with its tank and what the keeper told of it. */
export type FoundProbe = Readonly<{
  probe: Probe
  tank: StoredTank
  notes: ProbeNotes
  all: readonly Probe[]
}>

/** The probe of an id, or a refusal that says what to do. */
export async function probeOf(record: TankRecord, id: string): Promise<FoundProbe> {
  for (const tank of await record.tanks({ archived: true })) {
    const all = await record.probes(tank.id)
    const probe = all.find((one) => one.id === id)
    if (probe === undefined) continue
    const notes = (await record.probeNotes(tank.id)).find((one) => one.probeId === id)
    if (notes !== undefined) return { probe, tank, notes, all }
  }
  throw new HouseError('API_NOT_FOUND', 'There is no probe of this id. Load the list of probes again.')
}
