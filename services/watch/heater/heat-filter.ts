import {
  blend,
  type HeatBranch,
  hearRest,
  hearWater,
  keepHeatingNear,
  passMinute,
  surprise
} from './heat-branch.ts'
import type { HeaterPrior } from './heater-prior.ts'

/** What is believed of the water and the heater, from all minutes so far. */
export type HeatBelief = Readonly<{
  /** Probability that the heater is on. */
  onFrac: number
  waterC: number
  /** Where the water would settle without the heater: the room, and what pump and lamp add. */
  restC: number
  restSdK: number
  /** What the heater adds while it is on, K/h. */
  heatingPerH: number
}>

export type HeatFilter = Readonly<{
  /** One minute on, with the value of that minute where one was heard and may be trusted to be of still water. */
  step: (minute: HeatMinute) => void
  /** The water was exchanged or not seen: its temperature starts anew, the room stays what it was. */
  lose: (waterC: number) => void
  /** The heater must be on, or off, whatever the slope said; the room makes up for the difference. */
  assume: (isOn: boolean) => void
  belief: () => HeatBelief
}>
export type HeatMinute = Readonly<{
  waterC: number | null
  noiseK: number
  /** Where the heater's power is measured. */
  isOn?: boolean | null
  /** Where a probe in the room tells what the water would settle at. */
  restC?: number | null
}>

/** How often a heater switches, a minute: about as in ordinary tanks. It only sets how soon evidence is believed. */
const onPerMinute = 0.006
const offPerMinute = 0.015
/** A jump of more than this many squared standard deviations is no heat: the water itself was moved. */
const jumpSurprise = 12
/** A minute's word of the room is worth this much; over an hour that is under one kelvin. */
const restHintSdK = 6

/**
 * Follows the water and judges by its slope, minute by minute, whether the heater is on: two Kalman filters, one
 * for each supposition, weighed against each other.
 * Source: H. A. P. Blom and Y. Bar-Shalom 1988, The interacting multiple model algorithm for systems with Markovian
 *   switching coefficients, IEEE Trans. Automat. Contr. 33:780-783 (from memory).
 */
export function makeHeatFilter(prior: HeaterPrior, firstC: number): HeatFilter {
  const { coolingH, heatingPerH } = prior
  const heatingSd = prior.heatingDoubtFrac * heatingPerH
  const span = { low: heatingPerH - 2 * heatingSd, high: heatingPerH + 2.5 * heatingSd }
  let off = freshBranch(prior, firstC)
  let on = freshBranch(prior, firstC)
  // Each minute is written over the one before last: no garbage is left behind.
  let nextOff = freshBranch(prior, firstC)
  let nextOn = freshBranch(prior, firstC)
  const whenOff = { isOn: false, coolingH, heatingPriorPerH: heatingPerH }
  const whenOn = { isOn: true, coolingH, heatingPriorPerH: heatingPerH }
  let onFrac = 0.5

  function pass(): void {
    const offFrac = 1 - onFrac
    const toOff = offFrac * (1 - onPerMinute) + onFrac * offPerMinute
    const toOn = onFrac * (1 - offPerMinute) + offFrac * onPerMinute
    blend(nextOff, off, on, (offFrac * (1 - onPerMinute)) / toOff)
    blend(nextOn, on, off, (onFrac * (1 - offPerMinute)) / toOn)
    const [lastOff, lastOn] = [off, on]
    off = nextOff
    on = nextOn
    nextOff = lastOff
    nextOn = lastOn
    passMinute(off, whenOff)
    passMinute(on, whenOn)
    onFrac = toOn
  }

  function hear(waterC: number, noiseK: number): void {
    if (Math.min(surprise(off, waterC, noiseK), surprise(on, waterC, noiseK)) > jumpSurprise)
      for (const branch of [off, on]) branch.ww += (waterC - branch.waterC) ** 2
    const likelyOff = hearWater(off, waterC, noiseK) * (1 - onFrac)
    const likelyOn = hearWater(on, waterC, noiseK) * onFrac
    onFrac = likelyOn / (likelyOn + likelyOff)
    keepHeatingNear(off, span)
    keepHeatingNear(on, span)
  }

  return {
    step({ waterC, noiseK, isOn, restC }) {
      pass()
      if (waterC !== null) hear(waterC, noiseK)
      if (restC !== undefined && restC !== null)
        for (const branch of [off, on]) hearRest(branch, restC, restHintSdK)
      if (isOn !== undefined && isOn !== null) onFrac = isOn ? 1 : 0
      // Never so sure that nothing could change its mind.
      onFrac = Math.min(0.999, Math.max(0.001, onFrac))
    },
    lose(waterC) {
      for (const branch of [off, on])
        Object.assign(branch, { waterC, ww: 0.25, wr: 0, wh: 0, rr: branch.rr + 0.25 })
      onFrac = 0.5
    },
    assume(isOn) {
      const from = isOn ? off : on
      const liftK = from.heatingPerH * coolingH
      const restC = from.restC + (isOn ? -liftK : liftK)
      for (const branch of [off, on])
        Object.assign(branch, { restC, rr: Math.max(branch.rr, 1), wr: 0, rh: 0 })
      onFrac = isOn ? 0.99 : 0.01
    },
    belief: () => ({
      onFrac,
      waterC: onFrac * on.waterC + (1 - onFrac) * off.waterC,
      restC: onFrac * on.restC + (1 - onFrac) * off.restC,
      restSdK: Math.sqrt(onFrac * on.rr + (1 - onFrac) * off.rr),
      heatingPerH: onFrac * on.heatingPerH + (1 - onFrac) * off.heatingPerH
    })
  }
}

const freshBranch = (prior: HeaterPrior, firstC: number): HeatBranch => ({
  waterC: firstC,
  restC: firstC - 3,
  heatingPerH: prior.heatingPerH,
  ww: 0.25,
  wr: 0,
  wh: 0,
  rr: 9,
  rh: 0,
  hh: (prior.heatingDoubtFrac * prior.heatingPerH) ** 2
})
