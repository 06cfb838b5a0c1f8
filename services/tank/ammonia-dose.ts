import { ammoniaAsN } from '../water/conversions.ts'
import { molarMass } from '../water/molar-masses.ts'
import type { TankEvent } from './event.ts'
import type { TankProfile } from './profile.ts'

/** Whether an event put ammonia into the water on purpose. */
export const isAmmoniaDose = (event: TankEvent): boolean =>
  event.kind === 'dosed' &&
  /ammoni/i.test(event.data?.substance ?? '') &&
  !bindsAmmonia(event.data?.substance)

/**
 * Whether a conditioner, by what the keeper wrote, binds ammonia: then kits still show it and nobody can say how
 * much of it is free. Plain dechlorinators (thiosulfate) do not.
 * Source: hydroxymethanesulfonate and dithionite are the usual binders (from memory).
 */
export const bindsAmmonia = (text: string | boolean | undefined): boolean =>
  typeof text === 'string' &&
  /bind|detox|lock|hydroxymethane|hydroxymethyl|dithionite|hydrosul(f|ph)ite/i.test(text)

/**
 * By how much a dose raises total ammonia, mg N/L; null where it cannot be told (a solution of unknown strength).
 * Grams of ammonium chloride are weighed; a dose in mg/L (ppm) is taken in the basis of the keeper's kit.
 * Source: molar masses, IUPAC 2021.
 */
export function doseMgLAsN(event: TankEvent, profile: TankProfile): number | null {
  const { substance = '', amount, unit = '' } = event.data ?? {}
  if (amount === undefined) return null
  if (/^(mg\/l|ppm)$/i.test(unit)) return ammoniaAsN({ ammoniaMgL: amount, basis: profile.kit.ammoniaBasis })
  const milligrams = /^(g|gram|grams)$/i.test(unit) ? amount * 1000 : /^mg$/i.test(unit) ? amount : null
  if (milligrams === null || !/chloride/i.test(substance)) return null
  return (milligrams * (molarMass.N / molarMass.NH4Cl)) / profile.volumeL
}
