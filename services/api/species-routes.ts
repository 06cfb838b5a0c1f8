import { z } from 'zod'
import { speciesView } from '../contract/species-view.ts'
import { speciesSheets } from '../tank/species.ts'
import type { Door } from './api-parts.ts'

/** The species that the watch knows by a sheet; any other is taken too. */
export function addSpeciesRoutes(door: Door): void {
  door.get(
    '/api/species',
    {
      schema: { summary: 'Species that have a sheet, by both names', response: { 200: z.array(speciesView) } }
    },
    async () =>
      speciesSheets.map(({ id, scientificName, commonName }) => ({ id, scientificName, commonName }))
  )
}
