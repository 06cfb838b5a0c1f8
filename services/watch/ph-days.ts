import { quantileOfSorted } from '../series/quantile.ts'

/** How the pH of the last hours stands against the same hours of earlier days. */
export type PhDays = Readonly<{
  /** Mean of the newest whole hour; null where nothing was heard in it. */
  nowPH: number | null
  /** What is usual at this hour of the day; null before two earlier days are known. */
  usualPH: number | null
  /** How far below the usual: now, least over four hours, least over fourteen hours, six and 24 hours ago. */
  drop: number | null
  leastDrop4h: number | null
  leastDrop14h: number | null
  drop6hAgo: number | null
  drop24hAgo: number | null
  /** Within the last day it left its days within hours, as gas makes it: hardness is used up slowly. */
  fellQuickly: boolean
  /**
   * Highest of the last three dark hours, and the lowest of all earlier dawns; null before five are known, and where
   * the last one lies in a day in which the pH fell quickly.
   */
  dawnPH: number | null
  lowestDawnPH: number | null
}>

const daysBack = 21
const leastDays = 2
const leastDawns = 5
/** So far below its days a pH counts as fallen. */
export const fallenBy = 0.2
/** A fall of more than that within six hours is gas, not carbonate being used up. */
export const quickBy = 0.25
const quickHours = 6
/**
 * The usual value lies high among the days: a median follows a slow fall within a week and loses it; three days of
 * ten keep their say for a fortnight.
 */
const usualFrac = 0.7
const dayHours = 24

/**
 * Measures the pH against its own days, hour by hour, so that the daily wave of plants and CO2 cancels out.
 * Units: pH; hours since 1970.
 * Valid: whole hours; days before `sinceHour` are left out (a new electrode, another way of CO2).
 * Source: own choice, tried on virtual tanks.
 * Exact to: double precision.
 */
export function phDaysOf(
  given: Readonly<{
    mean: (hour: number) => number | null
    /** The hour that runs now: it is not whole yet and is left out. */
    nowHour: number
    sinceHour: number
    isDawn: (hour: number) => boolean
  }>
): PhDays {
  const { nowHour } = given
  const newest = nowHour - 1
  // A dawn lies up to a day back, and so does the beginning of a fall before it.
  const drops = Array.from({ length: 2 * dayHours + 1 }, (_, back) => dropAt(given, newest - back))
  const least = (hours: number, needed: number): number | null => {
    const known = drops.slice(0, hours).filter((drop) => drop !== null)
    return known.length < needed ? null : Math.min(...known)
  }
  const [dawn = null, ...earlier] = dawnsBefore(given)
  return {
    nowPH: given.mean(newest),
    usualPH: usualAt(given, newest),
    drop: drops[0] ?? null,
    leastDrop4h: least(4, 4),
    leastDrop14h: least(14, 12),
    drop6hAgo: drops[6] ?? null,
    drop24hAgo: drops[24] ?? null,
    fellQuickly: fellQuicklyBefore(drops, 0),
    dawnPH: dawn === null || fellQuicklyBefore(drops, newest - dawn.hour) ? null : dawn.pH,
    lowestDawnPH: earlier.length < leastDawns ? null : Math.min(...earlier.map(({ pH }) => pH))
  }
}

type Given = Parameters<typeof phDaysOf>[0]

function usualAt({ mean, sinceHour }: Given, hour: number): number | null {
  const earlier: number[] = []
  for (let day = 1; day <= daysBack; day += 1) {
    const at = hour - day * dayHours
    if (at < sinceHour) break
    const value = mean(at)
    if (value !== null) earlier.push(value)
  }
  if (earlier.length < leastDays) return null
  return quantileOfSorted(
    earlier.sort((a, b) => a - b),
    usualFrac
  )
}

function dropAt(given: Given, hour: number): number | null {
  const value = given.mean(hour)
  if (value === null || hour < given.sinceHour) return null
  const usual = usualAt(given, hour)
  return usual === null ? null : usual - value
}

/** Whether within the day before some hour the pH left its days quickly; the newest hour stands first. */
function fellQuicklyBefore(drops: readonly (number | null)[], at: number): boolean {
  return drops.slice(at + 1, at + 1 + dayHours).some((before, back) => {
    if (before === null || before >= fallenBy) return false
    const began = at + 1 + back
    return drops
      .slice(Math.max(at, began - quickHours), began)
      .some((drop) => drop !== null && drop - before > quickBy)
  })
}

type Dawn = Readonly<{ pH: number /** Its last hour. */; hour: number }>

/** The highest of the dark hours before each morning, newest first: gas that is on before the lights hides no dawn. */
function dawnsBefore({ mean, nowHour, sinceHour, isDawn }: Given): readonly Dawn[] {
  const dawns: Dawn[] = []
  let heard: Dawn[] = []
  const close = (): void => {
    const [last] = heard
    if (last !== undefined && heard.length >= 2)
      dawns.push({ pH: Math.max(...heard.map(({ pH }) => pH)), hour: last.hour })
    heard = []
  }
  for (let hour = nowHour - 1; hour >= Math.max(sinceHour, nowHour - daysBack * dayHours); hour -= 1) {
    if (!isDawn(hour)) {
      close()
      continue
    }
    const pH = mean(hour)
    if (pH !== null) heard.push({ pH, hour })
  }
  return dawns
}
