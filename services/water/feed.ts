import { type Answer, firstOutside, known } from './valid-range.ts'

const timmons = 'Timmons & Ebeling, Recirculating Aquaculture: 0.092 g N per g protein (from memory)'
export const feedRanges = {
  feedGPerDay: { low: 0, high: 1_000_000, unit: 'g/d', source: timmons },
  proteinFrac: { low: 0, high: 1, unit: 'share of dry feed', source: timmons },
  volumeL: { low: 0.1, high: 10_000_000, unit: 'L', source: 'a jar up to a public aquarium' }
} as const

/** Of each gram of protein 16 % is nitrogen; of that 80 % is used, 80 % of it excreted, 90 % of it as ammonia. */
export const ammoniaPerProtein = { usual: 0.092, derivation: 0.16 * 0.8 * 0.8 * 0.9, most: 0.16 } as const

export type FeedAmmonia = Readonly<{
  tanMgPerDay: number
  tanMgLPerDay: number
  /** Were all nitrogen of the feed to become ammonia in the end. */
  mostTanMgPerDay: number
}>

/**
 * Says how much ammonia comes of the food. Measured values can be a third of it, since leavings rot later.
 * Units: g of dry feed a day, share of protein, L -> mg N/d, mg N/(L d).
 * Valid: 0 to 1 000 000 g/d, share 0 to 1; frozen food is 80 % water.
 * Source: Timmons & Ebeling, Recirculating Aquaculture: F x PC x 0.092 (from memory).
 * Exact to: arithmetic exact; nature a factor of three.
 */
export function feedAmmonia(given: {
  feedGPerDay: number
  proteinFrac: number
  volumeL: number
}): Answer<FeedAmmonia> {
  const outside = firstOutside(given, feedRanges)
  if (outside) return outside
  const proteinMg = given.feedGPerDay * given.proteinFrac * 1000
  const tanMgPerDay = proteinMg * ammoniaPerProtein.usual
  return known({
    tanMgPerDay,
    tanMgLPerDay: tanMgPerDay / given.volumeL,
    mostTanMgPerDay: proteinMg * ammoniaPerProtein.most
  })
}
