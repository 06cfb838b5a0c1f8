import type { Judged } from './judged.ts'
import { fallenBy, type PhDays } from './ph-days.ts'
import { breathDrop } from './warm-breath.ts'

const dawnFallenBy = 0.15
/** Nitrification nearly stops below it, and what follows is a crash. */
export const crashIsNearPH = 6.5

export type PhLook = Readonly<{
  days: PhDays
  /** Median of the last quarter of an hour; null while no probe is fresh. */
  pH: number | null
  /** Water was changed within the last day and a half. */
  changedLately: boolean
  /** How much warmer the water is than at this hour of its days; null where nobody can tell. */
  warmerK?: number | null
  deadband: number
  stood: boolean
}>

/** The pH sinks from day to day: below the same hours of its earlier days, or to a dawn lower than any before. */
export function judgePhFalling(look: PhLook): Judged {
  const { days, pH, deadband, stood } = look
  if (pH === null) return 'cannot-tell'
  const { leastDrop14h, usualPH, dawnPH, lowestDawnPH } = days
  if (leastDrop14h === null && lowestDawnPH === null) return 'cannot-tell'
  const back = (stood ? deadband : 0) - breathDrop(look.warmerK)
  const base = {
    value: pH,
    unit: 'pH',
    ...hoursUntilCrash(days),
    facts: usualPH === null ? {} : { usualPH }
  }
  // What came within hours is likely gas and is asked about first; it must stand for a day.
  const isAsked = days.fellQuickly && !stood
  if (!isAsked && leastDrop14h !== null && leastDrop14h > fallenBy - back)
    return { because: 'below-its-days', ...base }
  if (dawnPH === null || lowestDawnPH === null || look.changedLately) return null
  if (dawnPH < lowestDawnPH - dawnFallenBy + back)
    return { because: 'dawn-lower-than-any-before', ...base, limit: lowestDawnPH }
  return null
}

/**
 * At constant CO2 the carbonate hardness goes as ten to the power of the pH, and it is used up at a steady pace:
 * hours until pH 6.5 by the pace of the last day.
 */
function hoursUntilCrash(days: PhDays): { hoursLeft?: number } {
  const { drop, drop24hAgo, usualPH } = days
  if (drop === null || drop24hAgo === null || usualPH === null) return {}
  const left = 10 ** -drop
  const perDay = 10 ** -drop24hAgo - left
  const atCrash = 10 ** (crashIsNearPH - usualPH)
  if (perDay < 0.01 || left <= atCrash) return {}
  return { hoursLeft: (24 * (left - atCrash)) / perDay }
}

/** A fall of some hours in which gas is the likely reason: a question to the keeper, no alarm. */
export function asksAboutCo2(look: Pick<PhLook, 'days'>, co2ChangedLately: boolean): boolean {
  const { drop, fellQuickly } = look.days
  if (drop === null) return co2ChangedLately
  if (drop < fallenBy) return false
  return co2ChangedLately || fellQuickly
}
