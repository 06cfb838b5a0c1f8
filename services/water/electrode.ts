import { zeroCelsiusK } from './conversions.ts'
import { type Answer, firstOutside, known, refused } from './valid-range.ts'

const nernst = 'Nernst equation, 2.302585 R T/F with CODATA 2018 constants'
const gasConstant = 8.314462618
const faraday = 96485.33212
export const electrodeRanges = {
  tempC: { low: 0, high: 50, unit: 'degC', source: nernst },
  millivolts: { low: -1000, high: 1000, unit: 'mV', source: 'a glass electrode spans about -414 to 414 mV' },
  pH: { low: 0, high: 14, unit: 'pH', source: nernst }
} as const
const isopotentialPH = 7
const limits = {
  slopeWornBelow: 0.95,
  slopeReplaceBelow: 0.9,
  slopeImplausibleAbove: 1.05,
  zeroMv: 30
} as const
const slopeRange = {
  low: 0.1,
  high: 1.5,
  unit: 'share of the Nernst slope',
  source: 'below it nothing is measured'
}
const spacing = { low: 1, high: 14, unit: 'pH between the buffers', source: 'one buffer cannot give a slope' }

/**
 * How many millivolts one pH step makes in an ideal glass electrode.
 * Units: degC -> mV/pH.
 * Valid: 0 to 50 degC.
 * Source: Nernst equation, 2.302585 R T/F with CODATA 2018 constants.
 * Exact to: 0.001 mV.
 */
export function nernstSlope(tempC: number): Answer<number> {
  return firstOutside({ tempC }, { tempC: electrodeRanges.tempC }) ?? known(nernstAt(tempC))
}

function nernstAt(tempC: number): number {
  return (1000 * Math.LN10 * gasConstant * (tempC + zeroCelsiusK)) / faraday
}

export type CalibrationPoint = Readonly<{ pH: number; tempC: number; millivolts: number }>

/** What keepers do about it: nothing, clean and watch, buy a new one, or look for a mistake first. */
export type ElectrodeVerdict = 'good' | 'worn' | 'replace' | 'implausible'
export type Electrode = Readonly<{
  /** At the mean temperature of the buffers; falls as pH rises, given as a positive number. */
  slopeMvPerPh: number
  /** Share of the ideal slope; the same at every temperature. */
  slopeFrac: number
  /** Millivolts at pH 7. */
  zeroMv: number
  verdict: ElectrodeVerdict
  /** How far the worst point lies off the line; 0 with two points. */
  worstMisfitMv: number
}>

/**
 * Draws the line of a glass electrode through two or more buffers, each at its own temperature.
 * Units: pH, degC, mV -> mV/pH, share of the ideal slope, mV at pH 7.
 * Valid: buffers at least 1 pH apart, 0 to 50 degC, -1000 to 1000 mV, slope 10 to 150 % of ideal.
 * Source: E = E0 - share N(t) (pH - 7), least squares; limits: slope above 95 % wanted, below 90 % replace (service page),
 *   zero within 30 mV (how-to sheet), above 105 % more probably wrong buffers (laboratory limits, from memory).
 * Exact to: double precision; two points are met exactly.
 */
export function fitElectrode(points: readonly CalibrationPoint[]): Answer<Electrode> {
  const bad = firstBadPoint(points)
  if (bad) return bad
  const span = Math.max(...points.map((p) => p.pH)) - Math.min(...points.map((p) => p.pH))
  if (!(span >= spacing.low)) return refused('calibration', points.length < 2 ? 0 : span, spacing)
  const along = points.map((p) => nernstAt(p.tempC) * (p.pH - isopotentialPH))
  const meanX = mean(along)
  const meanY = mean(points.map((p) => p.millivolts))
  let above = 0
  let below = 0
  for (const [i, point] of points.entries()) {
    const dx = (along[i] as number) - meanX
    above += dx * (point.millivolts - meanY)
    below += dx * dx
  }
  const slopeFrac = -above / below
  if (!(slopeFrac >= slopeRange.low && slopeFrac <= slopeRange.high))
    return refused('calibration', slopeFrac, slopeRange)
  const zeroMv = meanY + slopeFrac * meanX
  const misfits = points.map((p, i) => Math.abs(p.millivolts - zeroMv + slopeFrac * (along[i] as number)))
  return known({
    slopeFrac,
    slopeMvPerPh: slopeFrac * nernstAt(mean(points.map((p) => p.tempC))),
    zeroMv,
    verdict: verdictOn({ slopeFrac, zeroMv }),
    worstMisfitMv: points.length === 2 ? 0 : Math.max(...misfits)
  })
}

function firstBadPoint(points: readonly CalibrationPoint[]) {
  for (const point of points) {
    const outside = firstOutside(point, electrodeRanges)
    if (outside) return outside
  }
  return null
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function verdictOn({ slopeFrac, zeroMv }: { slopeFrac: number; zeroMv: number }): ElectrodeVerdict {
  if (slopeFrac > limits.slopeImplausibleAbove) return 'implausible'
  if (slopeFrac < limits.slopeReplaceBelow || Math.abs(zeroMv) > limits.zeroMv) return 'replace'
  return slopeFrac < limits.slopeWornBelow ? 'worn' : 'good'
}

/**
 * Turns millivolts into pH with the line of the electrode, at the temperature of the water.
 * Units: mV, degC, share of the ideal slope, mV -> pH.
 * Valid: 0 to 50 degC, -1000 to 1000 mV, slope 10 to 150 %; refused where the answer leaves pH 0 to 14.
 * Source: pH = 7 - (E - E0)/(share N(t)), isopotential point taken at pH 7.
 * Exact to: double precision; an electrode whose isopotential point is not 7 adds its own error.
 */
export function phFromMillivolts(given: {
  millivolts: number
  tempC: number
  slopeFrac: number
  zeroMv: number
}): Answer<number> {
  const { millivolts, tempC } = electrodeRanges
  const outside = firstOutside(given, { millivolts, tempC, slopeFrac: slopeRange, zeroMv: millivolts })
  if (outside) return outside
  const pH = isopotentialPH - (given.millivolts - given.zeroMv) / (given.slopeFrac * nernstAt(given.tempC))
  return firstOutside({ pH }, { pH: electrodeRanges.pH }) ?? known(pH)
}

/**
 * Says what a meter shows that takes another slope or another temperature than the electrode has.
 * Units: pH, shares of the ideal slope, degC -> pH shown.
 * Valid: pH 0 to 14, slope 10 to 150 %, 0 to 50 degC.
 * Source: Nernst equation: 7 - (7 - pH) x true slope/assumed slope.
 * Exact to: double precision.
 */
export function shownPH(given: {
  truePH: number
  slopeFrac: number
  tempC: number
  assumedSlopeFrac: number
  assumedTempC: number
}): Answer<number> {
  const { pH, tempC } = electrodeRanges
  const outside = firstOutside(given, {
    truePH: pH,
    slopeFrac: slopeRange,
    tempC,
    assumedSlopeFrac: slopeRange,
    assumedTempC: tempC
  })
  if (outside) return outside
  const ratio =
    (given.slopeFrac * nernstAt(given.tempC)) / (given.assumedSlopeFrac * nernstAt(given.assumedTempC))
  return known(isopotentialPH - ratio * (isopotentialPH - given.truePH))
}
