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
  /** Mean of the last three dark hours, and the lowest of all earlier ones; null before five are known. */
  dawnPH: number | null
  lowestDawnPH: number | null
}>

const daysBack = 21
const leastDays = 2
const leastDawns = 5
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
  const drops = Array.from({ length: 25 }, (_, back) => dropAt(given, newest - back))
  const least = (hours: number, needed: number): number | null => {
    const known = drops.slice(0, hours).filter((drop) => drop !== null)
    return known.length < needed ? null : Math.min(...known)
  }
  const dawns = dawnsBefore(given)
  const [dawnPH = null, ...earlier] = dawns
  return {
    nowPH: given.mean(newest),
    usualPH: usualAt(given, newest),
    drop: drops[0] ?? null,
    leastDrop4h: least(4, 4),
    leastDrop14h: least(14, 12),
    drop6hAgo: drops[6] ?? null,
    drop24hAgo: drops[24] ?? null,
    dawnPH,
    lowestDawnPH: earlier.length < leastDawns ? null : Math.min(...earlier)
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

/** Means of the dark hours before each morning, newest first. */
function dawnsBefore({ mean, nowHour, sinceHour, isDawn }: Given): readonly number[] {
  const dawns: number[] = []
  let values: number[] = []
  const close = (): void => {
    if (values.length >= 2) dawns.push(values.reduce((sum, value) => sum + value, 0) / values.length)
    values = []
  }
  for (let hour = nowHour - 1; hour >= Math.max(sinceHour, nowHour - daysBack * dayHours); hour -= 1) {
    if (!isDawn(hour)) {
      close()
      continue
    }
    const value = mean(hour)
    if (value !== null) values.push(value)
  }
  return dawns
}
