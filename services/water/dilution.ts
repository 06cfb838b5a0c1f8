import { type Answer, firstOutside, known, type ValidRange } from './valid-range.ts'

const mixing = 'conservation of mass in a well-mixed tank: C(1 - f) + f Cs'
const amount: ValidRange = { low: 0, high: 1_000_000, unit: 'mg/L or any unit alike', source: mixing }
const part: ValidRange = { low: 0, high: 1, unit: 'share of the net volume', source: mixing }
export const dilutionRanges = {
  now: amount,
  tap: amount,
  target: amount,
  fraction: part,
  times: { low: 1, high: 1000, unit: 'changes', source: mixing }
} as const
export const weeklyRanges = {
  perDay: amount,
  tap: amount,
  fraction: { ...part, low: 0.001 },
  everyDays: { low: 0.01, high: 365, unit: 'd', source: mixing }
} as const

/**
 * Says what is left of something after one or more water changes of the same size.
 * Units: any unit of concentration, the same for all -> the same.
 * Valid: 0 to 1 000 000, share 0 to 1, 1 to 1000 changes.
 * Source: conservation of mass: Cs + (C - Cs)(1 - f)^n.
 * Exact to: double precision.
 */
export function afterChanges(given: {
  now: number
  tap: number
  fraction: number
  times?: number | undefined
}): Answer<number> {
  const { now, tap, fraction, times = 1 } = given
  const { target: _target, ...ranges } = dilutionRanges
  const outside = firstOutside({ now, tap, fraction, times }, ranges)
  return outside ?? known(tap + (now - tap) * (1 - fraction) ** times)
}

export type NeededChange = Readonly<{ fraction: number | null; reachable: boolean }>

/**
 * Says how much water must be changed at once to bring something to a target, downwards or (hardness) upwards.
 * Units: any unit of concentration, the same for all -> share of the net volume.
 * Valid: 0 to 1 000 000. Where now and tap are both at or below the target nothing need be done; where the target is not
 *   on the way from now to tap, no change reaches it.
 * Source: conservation of mass: (C0 - C1)/(C0 - Cs).
 * Exact to: double precision against `afterChanges`.
 */
export function neededChange(given: { now: number; tap: number; target: number }): Answer<NeededChange> {
  const { now, tap, target } = dilutionRanges
  const outside = firstOutside(given, { now, tap, target })
  if (outside) return outside
  if (given.now === given.target || Math.max(given.now, given.tap) <= given.target)
    return known({ fraction: 0, reachable: true })
  const fraction = (given.now - given.target) / (given.now - given.tap)
  const reachable = fraction > 0 && fraction < 1
  return known({ fraction: reachable ? fraction : null, reachable })
}

/**
 * Says how many changes of one size bring something to a target.
 * Units: any unit of concentration, share -> number of changes, null where no number does.
 * Valid: 0 to 1 000 000; share 0 to 1.
 * Source: conservation of mass: ln((C1 - Cs)/(C0 - Cs))/ln(1 - f), rounded up.
 * Exact to: a whole number.
 */
export function changesNeeded(given: {
  now: number
  tap: number
  target: number
  fraction: number
}): Answer<number | null> {
  const { times: _times, ...ranges } = dilutionRanges
  const outside = firstOutside(given, ranges)
  if (outside) return outside
  const needed = neededChange(given)
  if (!needed.ok || needed.value.fraction === null) return known(null)
  if (needed.value.fraction === 0) return known(0)
  if (given.fraction === 0) return known(null)
  if (given.fraction >= needed.value.fraction) return known(1)
  const left = 1 - needed.value.fraction
  return known(Math.ceil(Math.log(left) / Math.log(1 - given.fraction) - 1e-9))
}

/**
 * Says between which bounds something swings when as much is added every day and the same change is done over and over.
 * Units: concentration a day, concentration, share, days -> concentrations before and after each change.
 * Valid: share 0.001 to 1, every 0.01 to 365 days.
 * Source: steady state of repeated dilution: peak Cs + p n/f, trough Cs + p n (1 - f)/f.
 * Exact to: double precision; reached after about 3/f changes.
 */
export function steadyChanges(given: {
  perDay: number
  tap: number
  fraction: number
  everyDays: number
}): Answer<{ peak: number; trough: number }> {
  const outside = firstOutside(given, weeklyRanges)
  if (outside) return outside
  const added = given.perDay * given.everyDays
  return known({
    peak: given.tap + added / given.fraction,
    trough: given.tap + (added * (1 - given.fraction)) / given.fraction
  })
}

/**
 * Says where something settles under a steady trickle of fresh water.
 * Units: concentration a day, concentration, shares of the volume a day -> concentration.
 * Valid: 0.001 to 1000 volumes a day.
 * Source: steady state of a stirred tank: Cs + P/Q.
 * Exact to: double precision.
 */
export function trickleSettles(given: {
  perDay: number
  tap: number
  volumesPerDay: number
}): Answer<number> {
  const volumesPerDay = { low: 0.001, high: 1000, unit: '1/d', source: mixing }
  const outside = firstOutside(given, { perDay: amount, tap: amount, volumesPerDay })
  return outside ?? known(given.tap + given.perDay / given.volumesPerDay)
}
