import type { Finding } from '../../tank/alarm-record.ts'
import type { Band } from '../../tank/bands.ts'
import type { Judged } from '../judged.ts'
import { deliveredFrac, type HeaterStanding } from './heater-standing.ts'
import { farBelowSign, notHeatingSign } from './not-heating-sign.ts'
import { farAboveSign, stuckOnSign } from './stuck-on-sign.ts'
import { type WeakSign, weakSign } from './weak-sign.ts'

/** What one minute says of the heater. */
export type HeaterVerdict = Readonly<{
  notHeating: Judged
  stuckOn: Judged
  weak: Judged
  /** The water is short of heat, and temperature alone cannot tell whether heater or room is to blame. */
  cannotDecide: boolean
  /** The probe may hang in the air: what it shows is the room's. */
  probeInAir: Judged
}>
export type HeaterJudge = (standing: HeaterStanding | null, band: Band) => HeaterVerdict

/** How long a sign must stand before it is believed, minutes. */
const holdMin = { measured: 4, came: 2, band: 3, far: 20, weak: 90, worn: 20, clear: 10 } as const

/** A noisy probe takes longer to show that heat is back after a little water was changed. */
const noiseHoldMinPerK = 120

/** A heater that gives so much of its heat is not dead. */
const someHeatFrac = 0.4

/** Turns signs into findings: each must stand for a while, and goes only when the water is well again. */
export function makeHeaterJudge(): HeaterJudge {
  const since = new Map<string, number>()
  let notHeating: string | null = null
  let stuckOn: string | null = null
  let weak: Exclude<WeakSign, null> | null = null

  /** For how many minutes a sign has stood. */
  const stood = (name: string, stands: boolean, atMin: number): number => {
    if (!stands) {
      since.delete(name)
      return -1
    }
    const from = since.get(name) ?? atMin
    since.set(name, from)
    return atMin - from
  }

  return (standing, band) => {
    if (standing === null)
      return {
        notHeating: 'cannot-tell',
        stuckOn: 'cannot-tell',
        weak: 'cannot-tell',
        cannotDecide: false,
        probeInAir: 'cannot-tell'
      }
    const { atMin, isLive } = standing
    // Two words of the probe at least.
    const shortMin =
      standing.power !== null
        ? Math.max(holdMin.measured, 1.6 * standing.everyMin)
        : Math.max(holdMin.band, 1.5 * standing.everyMin + 2, noiseHoldMinPerK * standing.noiseK)
    const cold = notHeatingSign(standing)
    if (stood('cold', cold !== null, atMin) >= shortMin) notHeating ??= cold
    if (stood('far', farBelowSign(standing), atMin) >= holdMin.far)
      notHeating ??= 'far-below-band-and-no-heat'
    const hot = stuckOnSign(standing)
    const hotMin = hot === 'heat-came-too-warm' ? holdMin.came : shortMin
    if (stood('hot', hot !== null, atMin) >= hotMin) stuckOn ??= hot
    if (stood('far-hot', farAboveSign(standing), atMin) >= holdMin.far)
      stuckOn ??= 'far-above-band-and-heat-goes-on'
    const faint = weakSign(standing)
    const cannotDecide = stood('cannot', faint === 'room-or-heater-cannot-tell', atMin) >= holdMin.weak
    const isWeak = faint !== null && faint !== 'room-or-heater-cannot-tell'
    const weakMin = faint === 'heat-does-not-suffice' ? holdMin.weak : holdMin.worn
    if (stood('weak', isWeak, atMin) >= weakMin) {
      weak ??= faint
      // So much heat for so long: what seemed dead is weak.
      if (faint === 'heat-does-not-suffice' && deliveredFrac(standing) > someHeatFrac) notHeating = null
    }
    if (stood('warming', isLive && hasHeat(standing, notHeating), atMin) >= holdMin.clear) notHeating = null
    if (stood('cooling', isLive && isNoLongerHot(standing, stuckOn), atMin) >= holdMin.clear) stuckOn = null
    if (stood('enough', isLive && isWarmEnough(standing) && !isWeak, atMin) >= holdMin.weak) weak = null
    const none: Judged = isLive ? null : 'cannot-tell'
    return {
      notHeating: notHeating === null ? none : finding(standing, notHeating, 'cold', band),
      stuckOn: stuckOn === null ? none : finding(standing, stuckOn, 'hot', band),
      // A dead heater is not also a weak one.
      weak: weak === null || notHeating !== null ? none : finding(standing, weak, 'cold', band),
      cannotDecide,
      probeInAir: inAir(standing)
    }
  }
}

/**
 * Heat that would have to come from a heater in a far colder room than ever is none. Warm water is enough only for a
 * sign that began with cool water.
 */
const hasHeat = (standing: HeaterStanding, because: string | null): boolean => {
  const { belief, prior, power, usualRestC, lower, lowestC } = standing
  if (power !== null) return power.isOn
  if (belief.onFrac > 0.5 && belief.restC - usualRestC > -0.4 * prior.liftK) return true
  return (
    because !== 'heat-stopped-short' &&
    belief.waterC > (lower?.middleC ?? lowestC ?? Number.NEGATIVE_INFINITY)
  )
}
const isNoLongerHot = (
  { belief, power, upper, highestC }: HeaterStanding,
  because: string | null
): boolean => {
  if (power?.isOn === true) return false
  if (power === null && because === 'heat-came-too-warm') return belief.onFrac < 0.5
  return belief.waterC < (upper?.middleC ?? highestC ?? Number.POSITIVE_INFINITY)
}
const isWarmEnough = ({ belief, lower, lowestC }: HeaterStanding): boolean =>
  belief.waterC > (lower?.middleC ?? lowestC ?? Number.NEGATIVE_INFINITY)

const inAir = ({ dryFall, belief }: HeaterStanding): Judged =>
  dryFall === null
    ? null
    : {
        because: 'fell-to-room-temperature',
        value: belief.waterC,
        unit: 'Cel',
        facts: { quantity: 'temperature', fellK: dryFall.fellK }
      }

function finding(standing: HeaterStanding, because: string, harm: 'cold' | 'hot', band: Band): Finding {
  const { belief, prior, lower, upper, lowestC, highestC } = standing
  const restC = harm === 'hot' ? belief.restC + belief.heatingPerH * prior.coolingH : belief.restC
  const limitC = harm === 'hot' ? highestC : lowestC
  const trend = (restC - belief.waterC) / prior.coolingH
  const hoursLeft =
    because === 'power-below-rated' || because === 'thermostat-wanders'
      ? null
      : hoursUntil(belief.waterC, restC, prior.coolingH, harm === 'hot' ? band.dangerHigh : band.dangerLow)
  return {
    because,
    value: belief.waterC,
    unit: 'Cel',
    ...(limitC === null ? {} : { limit: limitC }),
    trendPerHour: trend,
    ...(hoursLeft === null ? {} : { hoursLeft }),
    certaintyFrac: harm === 'hot' ? belief.onFrac : 1 - belief.onFrac,
    facts: {
      ...(lower === null ? {} : { lowerEdgeC: lower.middleC }),
      ...(upper === null ? {} : { upperEdgeC: upper.middleC }),
      usualRestC: standing.usualRestC,
      restC: belief.restC,
      afterChange: because === 'no-heat-after-change',
      powerKnown: standing.power !== null,
      ...(standing.power?.onW == null ? {} : { onW: standing.power.onW }),
      ...(standing.power?.ratedW == null ? {} : { ratedW: standing.power.ratedW }),
      ...(standing.wanderedK === null ? {} : { wanderedK: standing.wanderedK })
    }
  }
}

/**
 * Hours until a limit, on the way to where the water would settle; null where it never gets there.
 * Units: degC, h.
 * Source: Newton's law of cooling, solved for the time.
 */
export function hoursUntil(
  waterC: number,
  restC: number,
  coolingH: number,
  limitC: number | null
): number | null {
  if (limitC === null) return null
  const ratio = (waterC - restC) / (limitC - restC)
  if (!(ratio > 0) || !Number.isFinite(ratio)) return null
  return ratio <= 1 ? (isPast(waterC, restC, limitC) ? 0 : null) : coolingH * Math.log(ratio)
}
const isPast = (waterC: number, restC: number, limitC: number): boolean =>
  restC < limitC ? waterC <= limitC : waterC >= limitC
