import type { TankEvent } from '../tank/event.ts'
import { sheetOf } from '../tank/species.ts'
import type { Livestock } from '../tank/stage.ts'

const dayMs = 86_400_000
/**
 * Most that small fed fish give off, mg N a gram of fish a day.
 * Source: fed seabream of 3 g: 1032 mg N/kg/d (study abstract); bigger fish give off a third of it.
 */
const mgNPerGPerDay = 1
/** Weight of a fish, g per cubic centimetre of length. Source: the upper end of 0.012 to 0.02, from memory. */
const gPerCm3 = 0.02
const unknownSizeCm = 4
/** Protein share of ordinary dry food. Common practice, no source. */
const proteinFrac = 0.45
/** Nitrogen in protein, g/g. Source: the factor 6.25 between nitrogen and protein (Kjeldahl), 1/6.25 = 0.16. */
const nitrogenPerProtein = 0.16
/** Feed nitrogen that leaves as ammonia within the day. Source: 0.16 x 0.8 x 0.8 x 0.9, Timmons & Ebeling (from memory). */
const tanPerProtein = 0.092
/** A pinch of flake food, g. Common practice, no source. */
const gramsPerPinch = 0.1

/** The most ammonia these fish bring forth, mg N a day. */
export function fishMgNPerDay(livestock: readonly Livestock[]): number {
  return livestock.reduce(
    (sum, { speciesId, count }) =>
      sum + count * fishMassG(sheetOf(speciesId)?.sizeCm ?? unknownSizeCm) * mgNPerGPerDay,
    0
  )
}

const fishMassG = (sizeCm: number): number => gPerCm3 * sizeCm ** 3

/** Ammonia from one feeding, mg N: all its nitrogen, and what is to be expected. */
export function fedMgN(event: TankEvent): Readonly<{ most: number; expected: number }> {
  const grams = event.data?.grams ?? (event.data?.pinches ?? 1) * gramsPerPinch
  const proteinMg = grams * 1000 * proteinFrac
  return { most: proteinMg * nitrogenPerProtein, expected: proteinMg * tanPerProtein }
}

/** What fish gave off between two moments, mg N. */
export const overTime = (mgNPerDay: number, spanMs: number): number => (mgNPerDay * spanMs) / dayMs
