import { fitElectrode, nernstSlope } from '../water/electrode.ts'
import type { Calibration } from './calibration.ts'

type Electrode = Extract<Calibration, Readonly<{ kind: 'electrode' }>>
export type ElectrodeJudged = Readonly<{
  verdict: 'good' | 'worn' | 'replace' | 'implausible'
  slopeMvPerPh: number
}>

const referenceTempC = 25

/**
 * What a calibration says of its electrode: its line is drawn once more through two points that lie on it.
 * Units: share of the ideal slope, mV -> mV a pH at 25 degC.
 * Valid: as `fitElectrode`; null outside.
 * Source: as `fitElectrode`.
 * Exact to: double precision.
 */
export function judgeElectrode({
  slopeFrac,
  zeroMv
}: Pick<Electrode, 'slopeFrac' | 'zeroMv'>): ElectrodeJudged | null {
  const ideal = nernstSlope(referenceTempC)
  if (!ideal.ok) return null
  const slope = slopeFrac * ideal.value
  const fitted = fitElectrode([
    { pH: 4, tempC: referenceTempC, millivolts: zeroMv + 3 * slope },
    { pH: 10, tempC: referenceTempC, millivolts: zeroMv - 3 * slope }
  ])
  return fitted.ok ? { verdict: fitted.value.verdict, slopeMvPerPh: slope } : null
}

export type Retire = Readonly<{ because: 'slope-low' | 'zero-far' | 'slope-falling'; words: string }>
const monthMs = 30.436875 * 86_400_000
const replaceBelow = 0.9
const zeroLimitMv = 30
const soonMonths = 2

/**
 * Whether an electrode should go, from the calibrations of its life, oldest first; null where nothing speaks for it.
 * Source: limits as `fitElectrode`; "within two months at this pace": common practice, no source.
 */
export function adviseRetiring(calibrations: readonly Electrode[]): Retire | null {
  const newest = calibrations.at(-1)
  if (newest === undefined) return null
  const percent = Math.round(newest.slopeFrac * 100)
  if (newest.slopeFrac < replaceBelow)
    return {
      because: 'slope-low',
      words: `Retire this electrode: its slope is down to ${percent} % of ideal. Clean it and calibrate once more with fresh buffers; if it stays below 90 %, replace it.`
    }
  if (Math.abs(newest.zeroMv) > zeroLimitMv)
    return {
      because: 'zero-far',
      words: `Retire this electrode: its zero lies ${Math.round(newest.zeroMv)} mV off, more than ${zeroLimitMv}. Its reference is spent; cleaning seldom helps.`
    }
  const before = calibrations.at(-2)
  if (before === undefined) return null
  const months = (newest.fromMs - before.fromMs) / monthMs
  const perMonth = months > 0.5 ? (newest.slopeFrac - before.slopeFrac) / months : 0
  if (perMonth >= 0 || newest.slopeFrac + soonMonths * perMonth >= replaceBelow) return null
  return {
    because: 'slope-falling',
    words: `Buy the next electrode: the slope is ${percent} % and falls by ${(-100 * perMonth).toFixed(1)} % a month.`
  }
}
