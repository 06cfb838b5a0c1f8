/** What the watch must know of a species to judge its water. */
export type SpeciesSheet = Readonly<{
  id: string
  scientificName: string
  commonName: string
  tempC: Readonly<{ low: number; high: number }>
  pH: Readonly<{ low: number; high: number }>
  /** Adult length, centimetres. */
  sizeCm: number
  /** Smallest group that behaves as a shoal; 1 where it needs none. */
  groupOf: number
  source: string
}>

/** The sheets this house holds. A species without one is kept and shown as "no sheet". */
export const speciesSheets: readonly SpeciesSheet[] = [
  {
    id: 'tanichthys-albonubes',
    scientificName: 'Tanichthys albonubes',
    commonName: 'white cloud mountain minnow',
    tempC: { low: 18, high: 22 },
    pH: { low: 6, high: 8 },
    sizeCm: 4,
    groupOf: 5,
    source:
      'temperature FishBase, from memory; that tropical warmth harms it, size and group: read in descriptions of the species; pH from memory'
  },
  {
    id: 'trigonostigma-heteromorpha',
    scientificName: 'Trigonostigma heteromorpha',
    commonName: 'harlequin rasbora',
    tempC: { low: 22, high: 25 },
    pH: { low: 5, high: 7 },
    sizeCm: 5,
    groupOf: 5,
    source: 'temperature FishBase, from memory (keepers also give 22 to 27); pH, size and group FishBase'
  },
  {
    id: 'puntius-titteya',
    scientificName: 'Puntius titteya',
    commonName: 'cherry barb',
    tempC: { low: 23, high: 27 },
    pH: { low: 6, high: 8 },
    sizeCm: 5,
    groupOf: 6,
    source: 'temperature, pH and size: an encyclopedia citing FishBase; group: keepers’ practice'
  },
  {
    id: 'paracheirodon-innesi',
    scientificName: 'Paracheirodon innesi',
    commonName: 'neon tetra',
    tempC: { low: 20, high: 26 },
    pH: { low: 5, high: 7 },
    sizeCm: 3.5,
    groupOf: 6,
    source: 'several descriptions of the species that agree'
  },
  {
    id: 'corydoras-aeneus',
    scientificName: 'Corydoras aeneus',
    commonName: 'bronze corydoras',
    tempC: { low: 22, high: 26 },
    pH: { low: 6, high: 8 },
    sizeCm: 7,
    groupOf: 6,
    source:
      'temperature: keepers’ practice; feeds less below 14.5 °C, loses balance at 12.7 °C (Leggatt 2025); pH from memory; size and group: descriptions of the species'
  },
  {
    id: 'poecilia-reticulata',
    scientificName: 'Poecilia reticulata',
    commonName: 'guppy',
    tempC: { low: 18, high: 28 },
    pH: { low: 7, high: 8 },
    sizeCm: 5,
    groupOf: 1,
    source: 'descriptions of the species; it bears 39.7 to 41.8 °C for hours only (Yanar et al. 2019)'
  }
]

const byId = new Map(speciesSheets.map((sheet) => [sheet.id, sheet]))

/** The sheet of a species; null where the house has none. */
export const sheetOf = (speciesId: string): SpeciesSheet | null => byId.get(speciesId) ?? null
