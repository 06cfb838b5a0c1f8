import { z } from 'zod'

/** A species of which the house holds a sheet. */
export const speciesView = z.object({
  id: z.string(),
  scientificName: z.string(),
  commonName: z.string()
})
export type SpeciesView = z.infer<typeof speciesView>
