import { signal } from '@preact/signals'
import type { SpeciesView } from '../../services/contract/species-view.ts'
import { calls } from './house.ts'

/** Species that the house holds a sheet of; null before it has answered. */
export const knownSpecies = signal<readonly SpeciesView[] | null>(null)

export async function loadSpecies(): Promise<void> {
  if (knownSpecies.value !== null) return
  const answer = await calls.species()
  if (answer.kind === 'done') knownSpecies.value = answer.value
}
